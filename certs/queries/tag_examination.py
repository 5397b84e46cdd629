"""Tells at a tag when the thing was last loaded to prove it, out of the papers in force.

When it must be examined next is not on record: local law sets it, and who examines it says so.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from django.utils.timezone import localdate

from certs.queries.papers import Paper


@dataclass(frozen=True, slots=True)
class LastProof:
    """The latest proof load that a paper in force rests on."""

    test: str
    day: date


def last_proof(in_force: Iterable[Paper]) -> LastProof | None:
    """Find it; None where no paper rests on one. A paper that was damaged says nothing."""
    tests = [
        (datetime.fromisoformat(test["tested_at"]), str(test["code"]))
        for paper in in_force
        if paper.is_whole
        for test in paper.snapshot["proof_tests"]
    ]
    if not tests:
        return None
    tested_at, code = max(tests)
    return LastProof(code, localdate(tested_at))
