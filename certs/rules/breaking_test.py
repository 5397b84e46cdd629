"""What a breaking-force test proves: whether the rope meets its required force, and how surely.

It judges one test from figures already measured; what follows for the reel is left to services.
A person who is competent in rope decides; this says what the standard says.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Final

TEST_STANDARD: Final = "ISO 3108:2017"

# Read in ISO 3108:2017.
NEAR_GRIP_DIAMETERS: Final = 6
TEMPERATURE_C: Final = (Decimal(10), Decimal(35))
SLOW_RATE_PERCENT_PER_S: Final = Decimal("0.5")

_NM_PER_MM: Final = 1_000_000


class Outcome(StrEnum):
    """What one breaking-force test says of the required force."""

    MEETS = "meets"
    MEETS_LOWER_BOUND = "meets_lower_bound"
    DISCOUNTED = "discounted"
    FAILS = "fails"


@dataclass(frozen=True, slots=True)
class FreeLength:
    """Free test length for ropes up to a diameter (nm; None: any): mm, or times the diameter."""

    up_to_nm: int | None
    length_mm: int = 0
    diameters: int = 0


# Recalled from an older edition of ISO 3108, not seen: guidance that a user may replace.
FREE_LENGTHS: Final = (
    FreeLength(up_to_nm=6_000_000, length_mm=300),
    FreeLength(up_to_nm=20_000_000, length_mm=600),
    FreeLength(up_to_nm=None, diameters=30),
)
FREE_LENGTH_SOURCE: Final = "ISO 3108, older edition (from memory: guidance only)"


@dataclass(frozen=True, slots=True)
class Conditions:
    """How the test was made; None where nobody wrote it down. The rate is that above 80 %."""

    temperature_c: Decimal | None = None
    free_length_mm: int | None = None
    rate_n_per_s: float | None = None


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
    conditions: Conditions | None = None,
) -> Verdict:
    """Judge a test: forces in N; distance from the break to the nearest grip or termination in mm.

    `break_distance_mm` None means that the rope broke in the clear length. Without `conditions`
    nothing is said of deviations. ISO 3108:2017; ISO 10425:2003 5.1.4 for the de-rating.
    """
    is_near = is_near_grip(break_distance_mm=break_distance_mm, diameter_nm=diameter_nm)
    outcome = _outcome(is_met=peak_n >= required_n, is_near=is_near)
    reason, source = _REASONS[outcome]
    return Verdict(
        outcome=outcome,
        reason=reason,
        source=source,
        derated_force_n=peak_n if outcome is Outcome.FAILS else None,
        deviations=_deviations(conditions, required_n=required_n, diameter_nm=diameter_nm),
    )


def is_near_grip(*, break_distance_mm: int | None, diameter_nm: int) -> bool:
    """Tell whether a break lies within six rope diameters of a grip or termination."""
    if break_distance_mm is None:
        return False
    return break_distance_mm * _NM_PER_MM <= NEAR_GRIP_DIAMETERS * diameter_nm


def free_length_mm(
    *, diameter_nm: int, lengths: tuple[FreeLength, ...] = FREE_LENGTHS
) -> int | None:
    """Return the free length between grips in mm that a rope should have, rounded up.

    `lengths` in rising order of diameter; None where they do not reach this rope.
    """
    for row in lengths:
        if row.up_to_nm is None or diameter_nm <= row.up_to_nm:
            return row.length_mm or -(-row.diameters * diameter_nm // _NM_PER_MM)
    return None


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


def _deviations(
    conditions: Conditions | None, *, required_n: int, diameter_nm: int
) -> tuple[str, ...]:
    if conditions is None:
        return ()
    found = (
        _temperature(conditions.temperature_c),
        _rate(conditions.rate_n_per_s, required_n=required_n),
        _length(conditions.free_length_mm, diameter_nm=diameter_nm),
    )
    return tuple(text for text in found if text)


def _temperature(temperature_c: Decimal | None) -> str:
    least, most = TEMPERATURE_C
    if temperature_c is None:
        return f"The temperature was not recorded; {TEST_STANDARD} asks for {least} to {most} °C."
    if least <= temperature_c <= most:
        return ""
    return f"It was {temperature_c} °C; {TEST_STANDARD} asks for {least} to {most} °C."


def _rate(rate_n_per_s: float | None, *, required_n: int) -> str:
    if rate_n_per_s is None:
        return ""
    percent = Decimal(rate_n_per_s) * 100 / required_n
    if percent <= SLOW_RATE_PERCENT_PER_S:
        return ""
    return (
        f"Above 80 % of the required force the load rose by {percent:.2f} % of it per second;"
        f" {TEST_STANDARD} allows {SLOW_RATE_PERCENT_PER_S} %."
    )


def _length(length_mm: int | None, *, diameter_nm: int) -> str:
    wanted = free_length_mm(diameter_nm=diameter_nm)
    if length_mm is None or wanted is None or length_mm >= wanted:
        return ""
    return f"The free length was {length_mm} mm; {wanted} mm is usual: {FREE_LENGTH_SOURCE}."
