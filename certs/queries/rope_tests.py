"""Which breaking-force tests speak of a reel: those on any rope of the same mill reel.

It says which of them fail, and which are in doubt; how a failure lowers the certified force is
decided by `derivation`. A test that was reversed was never made as recorded, and speaks of nothing.
"""

from dataclasses import dataclass

from certs.models import BreakingTest
from certs.queries.decisions import decision_stands
from inventory.models import Hold, Reel
from inventory.queries.trace_back import trace_back
from inventory.queries.trace_forward import reel_ids_from


@dataclass(frozen=True, slots=True)
class RopeTest:
    """A test on rope of the same mill reel, and why its machine is in doubt, if it is."""

    test: BreakingTest
    doubts: tuple[str, ...]

    @property
    def has_failed(self) -> bool:
        """Whether the test lowers the force: a failure counts even when in doubt, to be safe."""
        return self.test.outcome == BreakingTest.Outcome.FAILS

    @property
    def is_evidence(self) -> bool:
        """Whether the test supports the force: it met it, in no doubt and by its decision rule."""
        met = (BreakingTest.Outcome.MEETS, BreakingTest.Outcome.MEETS_LOWER_BOUND)
        return self.test.outcome in met and not self.doubts and decision_stands(self.test)


def tests_on_rope(reel: Reel) -> list[RopeTest]:
    """List the breaking-force tests on this rope, wherever it was wound; oldest first."""
    ancestors = trace_back(reel_id=reel.pk, from_mm=0, to_mm=reel.length_mm)
    mill_reel = Reel.objects.get(pk=ancestors[-1].reel_id)
    family = reel_ids_from(mill_reel)
    tests = list(
        BreakingTest.objects.filter(sample__reel_id__in=family, reversal=None)
        .select_related("sample", "machine", "calibration", "retest_of", "decision_rule")
        .order_by("tested_at", "id")
    )
    holds = _holds_by_machine({test.machine_id for test in tests})
    return [RopeTest(test, _doubts(test, holds)) for test in tests]


def _holds_by_machine(machine_ids: set[int]) -> dict[int | None, list[str]]:
    found: dict[int | None, list[str]] = {}
    standing = Hold.objects.filter(testing_machine_id__in=machine_ids, released_at=None)
    for machine_id, code in standing.order_by("id").values_list("testing_machine_id", "code"):
        found.setdefault(machine_id, []).append(code)
    return found


def _doubts(test: BreakingTest, holds: dict[int | None, list[str]]) -> tuple[str, ...]:
    held = (
        f"Testing machine {test.machine.code} is under hold {code}."
        for code in holds.get(test.machine_id, [])
    )
    return (*(str(problem) for problem in test.machine_problems), *held)
