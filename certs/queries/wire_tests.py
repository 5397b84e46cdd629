"""Which wire tests speak of a reel, and where its rope stands on the way to an actual break.

They are those on any rope of the same mill reel. What was reversed was never made as recorded,
and speaks of nothing.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db.models import QuerySet

from certs.models import WireTest
from certs.queries.rope_tests import RopeTest, tests_on_rope
from certs.queries.test_doubts import doubts_of
from certs.rules.force_route import ActualForce, CalculatedForce, Route, route
from certs.rules.wire_strength import Wire
from certs.rules.wire_tests import Method
from inventory.models import CutPiece, Reel
from inventory.queries.families import reels_of_same_rope
from inventory.queries.trace_back import back_from_piece, back_from_reel


@dataclass(frozen=True, slots=True)
class RopeWireTest:
    """A wire test on rope of the same mill reel, and why its machine is in doubt, if it is."""

    test: WireTest
    doubts: tuple[str, ...]

    @property
    def refutes_grade(self) -> bool:
        """Whether it speaks against the marked grade: it does even when in doubt, to be safe."""
        return self.test.grade_outcome == WireTest.GradeOutcome.REFUTES

    @property
    def supports_grade(self) -> bool:
        """Whether it supports the marked grade, in no doubt."""
        return self.test.grade_outcome == WireTest.GradeOutcome.SUPPORTS and not self.doubts


def wire_tests() -> QuerySet[WireTest]:
    """Return all wire tests on record, the latest first."""
    related = ("reel", "sample", "machine", "reversal")
    return WireTest.objects.select_related(*related).order_by("-tested_at", "-id")


def wire_test_of(code: str) -> WireTest | None:
    """Return a wire test by its code, with what its page tells; None if there is none."""
    found = WireTest.objects.select_related(
        "reel", "sample", "machine", "calibration", "tested_by", "reversal__reversed_by"
    )
    return found.prefetch_related("wires").filter(code=code).first()


def wires_of(test: WireTest) -> tuple[Wire, ...]:
    """Give the wires of a test to the rules, in the order of its lines."""
    return tuple(
        Wire(
            layer=row.layer,
            diameter_nm=row.diameter_nm,
            force_mn=row.force_mn,
            represents=row.represents,
            retest_force_mn=row.retest_force_mn,
        )
        for row in sorted(test.wires.all(), key=lambda row: row.position)
    )


def wire_tests_on(reel: Reel) -> list[RopeWireTest]:
    """List the wire tests on a reel's rope, wherever it was wound; oldest first."""
    found = WireTest.objects.filter(reel_id__in=reels_of_same_rope(reel), reversal=None)
    tests = list(
        found.select_related("reel", "sample", "machine", "calibration").order_by("tested_at", "id")
    )
    return [RopeWireTest(*one) for one in zip(tests, doubts_of(tests), strict=True)]


def route_of(reel: Reel) -> Route:
    """Tell where a reel's rope stands, and what is asked next."""
    return route_from(wire_tests_on(reel), tests_on_rope(reel))


def route_from(wires: Iterable[RopeWireTest], breaks: Sequence[RopeTest]) -> Route:
    """Tell where rope stands from the tests on it that were fetched already."""
    return route(
        [_calculated(one) for one in wires],
        [_actual(one) for one in breaks if one.has_failed or one.is_evidence],
    )


def heat_steels(reel: Reel, *, sample: CutPiece | None) -> list[str]:
    """Name the steels of the heats in a sample, or in the whole reel where there is none."""
    trace = back_from_piece(sample) if sample else back_from_reel(reel)
    return [tie.heat.steel_name for tie in trace.heats]


def _calculated(one: RopeWireTest) -> CalculatedForce:
    test = one.test
    return CalculatedForce(
        test=test.code,
        method=Method(test.method).number,
        outcome=test.outcome,
        tested_at=test.tested_at,
        required_n=test.required_n,
        calculated_n=test.calculated_n,
        counts=not one.doubts,
    )


def _actual(one: RopeTest) -> ActualForce:
    test = one.test
    return ActualForce(test.code, not one.has_failed, test.tested_at, test.peak_n)
