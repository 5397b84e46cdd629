"""Which papers in force state more than the record supports since a breaking-force test failed.

A failed test lowers all rope of the same mill reel, in papers issued before it too. They are found
and listed here, never changed: the QA officer withdraws or corrects each.
"""

import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.db.models import Q, QuerySet

from certs.models import BreakingTest, Certificate, CertificatePiece
from certs.queries.stated_strengths import Overstated, overstated_in
from inventory.models import AssemblyPiece, Reel
from inventory.queries.families import families_of, mill_reels_of_pieces, reels_of_same_rope


@dataclass(frozen=True, slots=True)
class AffectedPaper:
    """A paper in force, whom it went to, its tag, what it overstates, and the tests that say so.

    `customer_code` is empty where no purchaser is named; `tests` are codes, the lowest peak first.
    """

    number: str
    title: str
    issued_at: datetime
    customer_code: str
    tag_code: str
    overstated: tuple[Overstated, ...]
    tests: tuple[str, ...]


def papers_affected() -> list[AffectedPaper]:
    """Find every such paper, the oldest first, in a fixed number of queries."""
    return _affected(_failed())


def papers_affected_by(test: BreakingTest) -> list[AffectedPaper]:
    """Find those that a failed test affects by itself; none for one that did not fail."""
    return _affected(_failed().filter(pk=test.pk))


def papers_affected_on(reel: Reel) -> list[AffectedPaper]:
    """Find those of a reel's family: all that came off the same mill reel."""
    return _affected(_failed().filter(sample__reel__in=reels_of_same_rope(reel)))


def _failed() -> QuerySet[BreakingTest]:
    return BreakingTest.objects.filter(outcome=BreakingTest.Outcome.FAILS, reversal=None).order_by(
        "peak_n", "id"
    )


def _affected(failed: Iterable[BreakingTest]) -> list[AffectedPaper]:
    """Hold each paper of each family against the lowest force that was measured on it."""
    tests = list(failed)
    roots = mill_reels_of_pieces({test.sample_id for test in tests})
    by_root: dict[int, list[BreakingTest]] = {}
    for test in tests:
        by_root.setdefault(roots[test.sample_id], []).append(test)
    family = families_of(by_root)
    codes = dict(Reel.objects.filter(pk__in=family).values_list("pk", "code"))
    on_reel = {codes[reel_id]: by_root[root] for reel_id, root in family.items()}
    lowered_kn = {code: Decimal(found[0].peak_n) / 1000 for code, found in on_reel.items()}
    papers = (_paper(one, lowered_kn, on_reel) for one in _in_force(family))
    return [paper for paper in papers if paper is not None]


def _in_force(reel_ids: Iterable[int]) -> QuerySet[Certificate]:
    """Return the papers in force that speak of rope on these reels, the oldest first."""
    ids = list(reel_ids)
    pieces = CertificatePiece.objects.filter(piece__reel__in=ids)
    built_in = AssemblyPiece.objects.filter(piece__reel__in=ids)
    return (
        Certificate.objects.filter(state=Certificate.State.ISSUED)
        .filter(
            Q(pk__in=pieces.values("certificate"))
            | Q(assembly__in=built_in.values("assembly"))
            | Q(breaking_test__sample__reel__in=ids)
        )
        .select_related("customer")
        .order_by("issued_at", "id")
    )


def _paper(
    certificate: Certificate,
    lowered_kn: dict[str, Decimal],
    on_reel: dict[str, list[BreakingTest]],
) -> AffectedPaper | None:
    snapshot = json.loads(certificate.snapshot)
    overstated = tuple(overstated_in(snapshot, lowered_kn))
    if not overstated:
        return None
    reels = (rope["reel"] for rope in snapshot["ropes"])
    tests = {test.code: test.peak_n for reel in reels for test in on_reel.get(reel, [])}
    return AffectedPaper(
        number=str(certificate.number),
        title=certificate.get_kind_display(),
        issued_at=certificate.issued_at or certificate.drafted_at,
        customer_code=certificate.customer.code if certificate.customer else "",
        tag_code=snapshot["tag"]["code"],
        overstated=overstated,
        tests=tuple(sorted(tests, key=lambda code: tests[code])),
    )
