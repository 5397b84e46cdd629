"""What the breaking tests on one rope of one maker say together: a chart, and a lower limit.

Each result is the measured force over the force required at that test, by the same method and on
the same designation; nothing is pooled. Which tests there are is found by the queries. A record
of the past is no promise: the next reel is judged by its own test.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from typing import Final

from certs.rules.breaking_test import Outcome
from certs.rules.control_chart import IndividualsChart, individuals_chart
from certs.rules.derived import Derived, Gap, Source
from certs.rules.tolerance_limit import lower_tolerance_limit, lowest_of_all

# Trade rule of this record, derived and not from a standard: fewer say nothing of a maker.
FEWEST_RESULTS: Final = 5
QUANTITY: Final = "measured force over required force"
COVERAGES: Final = (Decimal("0.90"), Decimal("0.95"), Decimal("0.99"))
CONFIDENCES: Final = (Decimal("0.90"), Decimal("0.95"), Decimal("0.99"))

_PLACE: Final = Decimal("0.0001")
_OWN_RULE: Final = Source(
    name="rule of this record: at least five exact results, never pooled", confidence="derived"
)


class Standing(StrEnum):
    """How a test stands in the record of its maker."""

    MEETS = "meets"
    FAILS = "fails"
    LOWER_BOUND = "lower_bound"
    DISCOUNTED = "discounted"
    IN_DOUBT = "in_doubt"
    PLACE_UNKNOWN = "place_unknown"


COUNTED: Final = frozenset({Standing.MEETS, Standing.FAILS, Standing.LOWER_BOUND})
EXACT: Final = frozenset({Standing.MEETS, Standing.FAILS})
_STANDINGS: Final = {
    Outcome.MEETS: Standing.MEETS,
    Outcome.MEETS_LOWER_BOUND: Standing.LOWER_BOUND,
    Outcome.DISCOUNTED: Standing.DISCOUNTED,
    Outcome.FAILS: Standing.FAILS,
}


@dataclass(frozen=True, slots=True)
class Result:
    """One test: its force over the required one, how it stands, and the reel it speaks of."""

    ratio: Decimal
    standing: Standing
    reel: str


@dataclass(frozen=True, slots=True)
class MakerFigures:
    """What enough results give; `outside` are places, among all results, beyond the limits.

    `is_reached` tells whether the lower tolerance limit is at least the required force.
    """

    chart: IndividualsChart
    outside: tuple[int, ...]
    tolerance: Derived
    lowest: Derived
    is_reached: bool
    remarks: tuple[str, ...]


def ratio_of(*, peak_n: int, required_n: int) -> Decimal:
    """Give a measured force over the required one, both in N, to four decimals, half up."""
    return (Decimal(peak_n) / required_n).quantize(_PLACE, rounding=ROUND_HALF_UP)


def standing_of(outcome: Outcome, *, is_in_doubt: bool, is_place_known: bool = True) -> Standing:
    """Tell how a test stands: in doubt where its machine supports nothing, whatever came out.

    A pass is exact only where it is known to have broken clear of the grips; a failure of which
    nobody knows the place counts as it was measured (own decision, safe side).
    """
    if is_in_doubt:
        return Standing.IN_DOUBT
    if outcome is Outcome.MEETS and not is_place_known:
        return Standing.PLACE_UNKNOWN
    return _STANDINGS[outcome]


def maker_figures(
    results: Sequence[Result], *, coverage: Decimal, confidence: Decimal
) -> MakerFigures | Gap:
    """Chart results in the order of time, and give what a share of such rope reaches.

    Failures count as they were measured; breaks near a grip at or above the required force count
    as lower bounds; discounted tests, tests in doubt and passes of which nobody wrote down where
    the rope broke do not count. A gap where too few do.
    """
    exact = [one.ratio for one in results if one.standing in EXACT]
    if len(exact) < FEWEST_RESULTS:
        reason = (
            f"Not enough data: {_tests(len(exact))} broke clear of the grips on a machine in no"
            f" doubt, and {FEWEST_RESULTS} are needed before anything is said of this maker."
        )
        return Gap(QUANTITY, reason, _OWN_RULE)
    if len(set(exact)) == 1:
        reason = "All results are the same figure: no spread can be derived from them."
        return Gap(QUANTITY, reason, _OWN_RULE)
    bounds = [one.ratio for one in results if one.standing is Standing.LOWER_BOUND]
    chart = individuals_chart(exact, quantity=QUANTITY)
    tolerance = lower_tolerance_limit(
        exact, bounds, quantity=QUANTITY, coverage=coverage, confidence=confidence
    )
    return MakerFigures(
        chart=chart,
        outside=tuple(_outside(results, chart)),
        tolerance=tolerance,
        lowest=lowest_of_all(
            len(exact) + len(bounds),
            lowest=min((*exact, *bounds)),
            quantity=QUANTITY,
            coverage=coverage,
        ),
        is_reached=tolerance.stated >= 1,
        remarks=tuple(_remarks(results)),
    )


def _outside(results: Sequence[Result], chart: IndividualsChart) -> Iterable[int]:
    """Yield the places of results beyond the limits; of a lower bound only too much is known."""
    for place, one in enumerate(results):
        is_above = one.ratio > chart.upper.unrounded
        is_below = one.ratio < chart.lower.unrounded and one.standing in EXACT
        if one.standing in COUNTED and (is_above or is_below):
            yield place


def _remarks(results: Sequence[Result]) -> Iterable[str]:
    counts = {
        standing: sum(1 for one in results if one.standing is standing) for standing in Standing
    }
    reels = len({one.reel for one in results if one.standing in COUNTED})
    used = sum(counts[standing] for standing in COUNTED)
    yield (
        f"{_tests(used)} on rope of {reels} reel{'' if reels == 1 else 's'} of the mill."
        " Samples of one reel are more alike than reels are: the fewer the reels, the less the"
        " limits say of the next one."
    )
    for standing, words in _FLAGS.items():
        if counts[standing]:
            yield f"{_tests(counts[standing])}: {words}"


_FLAGS: Final = {
    Standing.FAILS: "below the required force; counted as measured, and the reel was de-rated.",
    Standing.LOWER_BOUND: (
        "broke near a grip at or above the required force; counted as a lower bound and left out"
        " of the chart's mean."
    ),
    Standing.DISCOUNTED: "broke near a grip below the required force; shown, and not counted.",
    Standing.IN_DOUBT: "on a machine in doubt; shown, and not counted.",
    Standing.PLACE_UNKNOWN: (
        "at or above the required force, and nobody wrote down where the rope broke; shown, and"
        " not counted."
    ),
}


def _tests(count: int) -> str:
    return f"{count} test{'' if count == 1 else 's'}"
