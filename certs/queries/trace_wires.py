"""Finds the tests of wires on the rope that a trace reached, in one query."""

from collections.abc import Iterable

from django.db.models.expressions import RawSQL

from certs.models import WireTest
from certs.queries.evidence import reversal_of
from certs.queries.trace_claims import whole_reels
from certs.queries.trace_shapes import WireRow
from certs.rules.wire_tests import Method
from inventory.queries.genealogy_sql import down


def wire_tests_on_reels(reel_ids: Iterable[int]) -> list[WireRow]:
    """List the wire tests on any rope of these reels, wherever it was wound since, oldest first."""
    ids = set(reel_ids)
    if not ids:
        return []
    walk = down(whole_reels(ids)).then("SELECT DISTINCT reel_id FROM down")
    family = RawSQL(walk.sql, walk.params)  # noqa: S611 -- made of constants; values are bound
    found = WireTest.objects.filter(reel_id__in=family).select_related("reel", "sample", "reversal")
    return [_row(test) for test in found.order_by("tested_at", "id")]


def _row(test: WireTest) -> WireRow:
    reversal = reversal_of(test)
    return {
        "code": test.code,
        "reel": test.reel.code,
        "sample": test.sample.code if test.sample else "",
        "method": Method(test.method).number,
        "tested_at": test.tested_at.isoformat(),
        "required_n": test.required_n,
        "calculated_n": test.calculated_n,
        "outcome": test.outcome,
        "grade_outcome": test.grade_outcome,
        "reversed_at": reversal.reversed_at.isoformat() if reversal else "",
    }
