"""Which breaking tests speak of a maker's rope: all on one designation of one mill, by time.

Every test is a break of the whole rope (method 1 of ISO 10425): calculated forces are no tests
here, and are never pooled with them. Reversed tests were never made as recorded, and are left out.
What the results say together is decided by the rules.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from itertools import groupby

from django.db.models import QuerySet

from certs.models import BreakingTest
from certs.rules.breaking_test import PLACE_UNKNOWN, Outcome
from certs.rules.derived import Gap
from certs.rules.maker_record import (
    COUNTED,
    EXACT,
    FEWEST_RESULTS,
    MakerFigures,
    Result,
    Standing,
    maker_figures,
    ratio_of,
    standing_of,
)
from inventory.models import Hold, Party, Reel


@dataclass(frozen=True, slots=True)
class RecordPoint:
    """One test in the record: its ratio, how it stands, and why it is in doubt, if it is."""

    test: BreakingTest
    result: Result
    doubts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MakerRecord:
    """All tests on one rope of one mill, the oldest first."""

    mill: Party
    designation: str
    points: tuple[RecordPoint, ...]

    @property
    def results(self) -> tuple[Result, ...]:
        """What the rules judge."""
        return tuple(point.result for point in self.points)

    def figures(self, *, coverage: Decimal, confidence: Decimal) -> MakerFigures | Gap:
        """Give chart and limits, or say why there are none."""
        return maker_figures(self.results, coverage=coverage, confidence=confidence)


@dataclass(frozen=True, slots=True)
class RecordEntry:
    """One line of the list of records: how many tests, how many count, how many failed."""

    mill: Party
    designation: str
    tests: int
    counted: int
    exact: int
    failed: int
    latest_at: datetime

    @property
    def is_enough(self) -> bool:
        """Whether figures are given for it."""
        return self.exact >= FEWEST_RESULTS


def maker_records() -> list[RecordEntry]:
    """List the mills and ropes of which samples were broken, in two queries."""
    points = _points(_tests().order_by("sample__reel__mill__code", "sample__reel__designation"))
    grouped = groupby(points, key=lambda point: (_reel(point).mill, _reel(point).designation))
    return [_entry(mill, designation, list(of)) for (mill, designation), of in grouped]


def maker_record(*, mill: Party, designation: str) -> MakerRecord:
    """Return the record of one rope of one mill, in two queries; it may be empty."""
    tests = _tests().filter(sample__reel__mill=mill, sample__reel__designation=designation)
    return MakerRecord(mill, designation, tuple(_points(tests.order_by("tested_at", "id"))))


def mill_of_code(code: str) -> Party | None:
    """Return a mill by its code."""
    return Party.objects.filter(code=code, kind=Party.Kind.MILL).first()


def _tests() -> QuerySet[BreakingTest]:
    tests = BreakingTest.objects.filter(reversal=None)
    return tests.select_related("sample__reel__mill", "machine")


def _points(tests: Iterable[BreakingTest]) -> Iterable[RecordPoint]:
    holds = _machines_on_hold()
    return [_point(test, holds.get(test.machine_id, ())) for test in tests]


def _point(test: BreakingTest, holds: Iterable[str]) -> RecordPoint:
    held = (f"Testing machine {test.machine.code} is under hold {code}." for code in holds)
    doubts = (*(str(problem) for problem in test.machine_problems), *held)
    unplaced = () if test.is_break_place_known else (PLACE_UNKNOWN,)
    reel = test.sample.reel
    result = Result(
        ratio=ratio_of(peak_n=test.peak_n, required_n=test.required_n),
        standing=standing_of(
            Outcome(test.outcome),
            is_in_doubt=bool(doubts),
            is_place_known=test.is_break_place_known,
        ),
        # Rope that was wound again keeps the number of the mill's reel: one production length.
        reel=reel.mill_reel_number or reel.code,
    )
    return RecordPoint(test, result, (*doubts, *unplaced))


def _machines_on_hold() -> Mapping[int | None, list[str]]:
    found: dict[int | None, list[str]] = {}
    standing = Hold.objects.filter(testing_machine__isnull=False, released_at=None)
    for machine_id, code in standing.order_by("id").values_list("testing_machine_id", "code"):
        found.setdefault(machine_id, []).append(code)
    return found


def _entry(mill: Party, designation: str, points: list[RecordPoint]) -> RecordEntry:
    standings = [point.result.standing for point in points]
    return RecordEntry(
        mill=mill,
        designation=designation,
        tests=len(points),
        counted=sum(1 for one in standings if one in COUNTED),
        exact=sum(1 for one in standings if one in EXACT),
        failed=standings.count(Standing.FAILS),
        latest_at=max(point.test.tested_at for point in points),
    )


def _reel(point: RecordPoint) -> Reel:
    return point.test.sample.reel
