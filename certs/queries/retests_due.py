"""Which discounted breaks nobody has settled yet: a sample near a grip that proved nothing.

A start page asks this of the whole record, so each is held against the force that its own sample
had to reach; what blocks a certificate is decided by `breaking_records`.
"""

from django.db.models import QuerySet

from certs.models import BreakingTest
from certs.queries.breaking_records import as_on_record
from certs.rules.breaking_record import breaking_record
from inventory.queries.families import families_of, mill_reels_of_pieces


def retests_due() -> list[BreakingTest]:
    """Find them, the oldest first, in a fixed number of queries."""
    counting = BreakingTest.objects.filter(reversal=None)
    discounted = counting.filter(outcome=BreakingTest.Outcome.DISCOUNTED)
    due = list(discounted.select_related("sample__reel").order_by("tested_at", "id"))
    roots = mill_reels_of_pieces({test.sample_id for test in due})
    family = families_of(set(roots.values()))
    related = counting.filter(sample__reel__in=family).select_related(
        "sample", "retest_of", "decision_rule"
    )
    by_root: dict[int, list[BreakingTest]] = {}
    for test in related:
        by_root.setdefault(family[test.sample.reel_id], []).append(test)
    return [test for test in due if _is_open(test, by_root[roots[test.sample_id]])]


def repeatable_tests() -> QuerySet[BreakingTest]:
    """Return the discounted tests that may be named as repeated: not reversed, with no retest."""
    return BreakingTest.objects.filter(
        outcome=BreakingTest.Outcome.DISCOUNTED, reversal=None, retest=None
    ).order_by("-tested_at", "-id")


def _is_open(test: BreakingTest, on_rope: list[BreakingTest]) -> bool:
    records = [
        as_on_record(one, doubts=[str(problem) for problem in one.machine_problems])
        for one in on_rope
    ]
    return test.code in breaking_record(records, certified_n=test.required_n).open_tests
