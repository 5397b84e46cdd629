"""Which breaking-force tests speak of a reel: those on any rope of the same mill reel.

It says which of them fail, and which are in doubt; how a failure lowers the certified force is
decided by `derivation`. A test that was reversed was never made as recorded, and speaks of nothing.
"""

from dataclasses import dataclass

from certs.models import BreakingTest
from certs.queries.decisions import decision_stands
from certs.queries.test_doubts import doubts_of
from inventory.models import Reel
from inventory.queries.families import reels_of_same_rope


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
    tests = list(
        BreakingTest.objects.filter(sample__reel_id__in=reels_of_same_rope(reel), reversal=None)
        .select_related("sample", "machine", "calibration", "retest_of", "decision_rule")
        .order_by("tested_at", "id")
    )
    return [RopeTest(*one) for one in zip(tests, doubts_of(tests), strict=True)]
