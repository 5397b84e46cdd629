"""What a breaking-force test proves: whether the rope meets its required force, and how surely.

It judges one test from figures already measured; how the test was made is looked at by
`breaking_conditions`, and what follows for the reel is left to services.
A person who is competent in rope decides; this says what the standard says.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from certs.rules.breaking_conditions import (
    NEAR_GRIP_DIAMETERS,
    NM_PER_MM,
    TEST_STANDARD,
    Conditions,
    deviations_of,
)


class Outcome(StrEnum):
    """What one breaking-force test says of the required force."""

    MEETS = "meets"
    MEETS_LOWER_BOUND = "meets_lower_bound"
    DISCOUNTED = "discounted"
    FAILS = "fails"


@dataclass(frozen=True, slots=True)
class Verdict:
    """The outcome, why, and where the rule stands.

    `derated_force_n` is the force to which the reel falls when the test fails. `deviations` are
    ways in which the test was not made, or not shown to be made, as the standard asks.
    """

    outcome: Outcome
    reason: str
    source: str
    derated_force_n: int | None
    deviations: tuple[str, ...]

    @property
    def is_lower_bound(self) -> bool:
        """Tell whether the rope would have borne more: censored for statistics."""
        return self.outcome in {Outcome.MEETS_LOWER_BOUND, Outcome.DISCOUNTED}


def judge_breaking_test(
    *,
    peak_n: int,
    required_n: int,
    break_distance_mm: int | None,
    diameter_nm: int,
    is_place_known: bool = True,
    conditions: Conditions | None = None,
) -> Verdict:
    """Judge a test: forces in N; distance from the break to the nearest grip or termination in mm.

    `break_distance_mm` None means that the rope broke in the clear length; with `is_place_known`
    False nobody wrote down where, and nothing lets a weak result be discounted (own decision, safe
    side). Without `conditions` nothing is said of them. ISO 3108:2017; ISO 10425:2003 5.1.4 for
    the de-rating.
    """
    is_near = is_place_known and is_near_grip(
        break_distance_mm=break_distance_mm, diameter_nm=diameter_nm
    )
    outcome = _outcome(is_met=peak_n >= required_n, is_near=is_near)
    reason, source = (_REASONS if is_place_known else _REASONS_UNPLACED)[outcome]
    is_untold = outcome is Outcome.MEETS and not is_place_known
    return Verdict(
        outcome=outcome,
        reason=reason,
        source=source,
        derated_force_n=peak_n if outcome is Outcome.FAILS else None,
        deviations=(
            *((PLACE_UNKNOWN,) if is_untold else ()),
            *(deviations_of(conditions, diameter_nm=diameter_nm) if conditions else ()),
        ),
    )


def is_near_grip(*, break_distance_mm: int | None, diameter_nm: int) -> bool:
    """Tell whether a break lies within six rope diameters of a grip or termination."""
    if break_distance_mm is None:
        return False
    return break_distance_mm * NM_PER_MM <= NEAR_GRIP_DIAMETERS * diameter_nm


PLACE_UNKNOWN: Final = (
    "Nobody wrote down where it broke: whether that was within"
    f" {NEAR_GRIP_DIAMETERS} rope diameters of a grip ({TEST_STANDARD}) is not known."
)
_REASONS: Final = {
    Outcome.MEETS: (
        "The rope reached the required breaking force and broke clear of the grips.",
        TEST_STANDARD,
    ),
    Outcome.MEETS_LOWER_BOUND: (
        (
            "The rope reached the required breaking force although it broke within six rope"
            " diameters of a grip or termination: it passes, and its true force is at least the"
            " one measured."
        ),
        f"{TEST_STANDARD}; that the discount applies only below the required force is from memory",
    ),
    Outcome.DISCOUNTED: (
        (
            "The rope broke within six rope diameters of a grip or termination, below the required"
            " force: the test may be discounted. It proves nothing; test another sample."
        ),
        TEST_STANDARD,
    ),
    Outcome.FAILS: (
        (
            "The rope broke clear of the grips below the required breaking force. It may be rated"
            " at no more than the measured force."
        ),
        "ISO 10425:2003 5.1.4",
    ),
}


# Without a place no break is near a grip: only these two are left.
_REASONS_UNPLACED: Final = {
    Outcome.MEETS: ("The rope reached the required breaking force.", TEST_STANDARD),
    Outcome.FAILS: (
        (
            "The rope broke below the required breaking force, and nobody wrote down where: nothing"
            " lets the test be discounted. It may be rated at no more than the measured force."
        ),
        f"ISO 10425:2003 5.1.4; {TEST_STANDARD} discounts a break near a grip alone",
    ),
}


def _outcome(*, is_met: bool, is_near: bool) -> Outcome:
    match is_met, is_near:
        case True, False:
            return Outcome.MEETS
        case True, True:
            return Outcome.MEETS_LOWER_BOUND
        case False, True:
            return Outcome.DISCOUNTED
        case _:
            return Outcome.FAILS
