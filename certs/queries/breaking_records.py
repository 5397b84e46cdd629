"""Weighs the breaking-force tests on a reel's rope against what would be certified today."""

from collections.abc import Sequence

from certs.models import BreakingTest
from certs.queries.decisions import turned_down
from certs.queries.derivation import certified_force
from certs.queries.rope_tests import tests_on_rope
from certs.rules.breaking_force import whole_newtons
from certs.rules.breaking_record import BreakingRecord, BreakOnRecord, breaking_record
from certs.rules.breaking_test import Outcome
from inventory.models import Reel


def breaking_record_of(reel: Reel) -> BreakingRecord:
    """Give the standing of a reel's rope by the tests on its mill reel. Raises NoBasis."""
    certified_n = whole_newtons(certified_force(reel))
    tests = [as_on_record(one.test, doubts=one.doubts) for one in tests_on_rope(reel)]
    return breaking_record(tests, certified_n=certified_n)


def as_on_record(test: BreakingTest, *, doubts: Sequence[str] = ()) -> BreakOnRecord:
    """State a test as the rules weigh it; `doubts` are those about its machine."""
    return BreakOnRecord(
        code=test.code,
        sample=test.sample.code,
        outcome=Outcome(test.outcome),
        tested_at=test.tested_at,
        peak_n=test.peak_n,
        doubt=" ".join(text for text in (*doubts, turned_down(test)) if text),
        repeats=test.retest_of.code if test.retest_of else "",
        is_place_known=test.is_break_place_known,
    )
