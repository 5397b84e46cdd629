"""Which failed breaking-force tests still wait for a decision of the QA officer.

A failure lowers the certified force of its rope for good, whether it waits or not; that is decided
by `derivation`. It waits while a paper in force states more than it bore, and until the record says
that somebody went on from it: another sample held, or the basis of the rope was named anew.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime

from certs.models import BreakingTest, StrengthBasis
from certs.queries.papers_affected import AffectedPaper
from certs.queries.rope_tests import RopeTest
from certs.queries.test_doubts import doubts_of
from inventory.queries.families import families_of, mill_reels_of_pieces


def failures_to_judge(affected: Iterable[AffectedPaper]) -> list[BreakingTest]:
    """Find them, the latest first, in a fixed number of queries.

    Args:
        affected: the papers in force that state more than a failed test supports.
    """
    counting = BreakingTest.objects.filter(reversal=None)
    failed = list(
        counting.filter(outcome=BreakingTest.Outcome.FAILS)
        .select_related("sample__reel")
        .order_by("-tested_at", "-id")
    )
    roots = mill_reels_of_pieces({test.sample_id for test in failed})
    family = families_of(set(roots.values()))
    held, named = _held(family), _named(family)
    overstated = {code for paper in affected for code in paper.tests}
    return [
        test
        for test in failed
        if test.code in overstated
        or not (
            any(_answers(one, test) for one in held[roots[test.sample_id]])
            or any(at > test.recorded_at for at in named[roots[test.sample_id]])
        )
    ]


def _answers(held: BreakingTest, failed: BreakingTest) -> bool:
    """Tell whether a sample broken later bore at least what the failed one did."""
    return held.tested_at > failed.tested_at and held.peak_n >= failed.peak_n


def _held(family: Mapping[int, int]) -> dict[int, list[BreakingTest]]:
    """Give by mill reel the tests that are evidence of a force, none in doubt."""
    tests = list(
        BreakingTest.objects.filter(sample__reel__in=family, reversal=None)
        .exclude(outcome=BreakingTest.Outcome.FAILS)
        .select_related("sample", "machine", "decision_rule")
    )
    held: dict[int, list[BreakingTest]] = defaultdict(list)
    for test, doubts in zip(tests, doubts_of(tests), strict=True):
        if RopeTest(test, doubts).is_evidence:
            held[family[test.sample.reel_id]].append(test)
    return held


def _named(family: Mapping[int, int]) -> dict[int, list[datetime]]:
    """Give by mill reel when a basis of its rope was named."""
    named: dict[int, list[datetime]] = defaultdict(list)
    bases = StrengthBasis.objects.filter(reel__in=family)
    for reel_id, at in bases.values_list("reel_id", "named_at"):
        named[family[reel_id]].append(at)
    return named
