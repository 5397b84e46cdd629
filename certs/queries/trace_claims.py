"""Finds what is claimed of pieces that a trace reached: certificates, tags and tests.

The pieces come as a SELECT of their ids (`forward_sql` of the inventory), so that each kind of
claim costs a fixed number of queries, whatever the number of pieces.
"""

from collections import defaultdict
from collections.abc import Iterable
from typing import Any

from django.db.models import Q, QuerySet
from django.db.models.expressions import RawSQL

from certs.models import BreakingTest, Certificate, CertificatePiece, ProofTest, Tag
from certs.queries.evidence import reversal_of
from certs.queries.trace_shapes import BreakingRow, CertificateRow, ProofRow, TagRow
from inventory.models import AssemblyPiece
from inventory.queries.forward_select import piece_ids
from inventory.queries.genealogy_sql import Sql, down


def certificates_downstream(reached: Sql) -> list[CertificateRow]:
    """List the certificates, drafts too, that speak of the pieces reached, oldest first.

    By name, by the assembly they are built into, or by the sample that was broken.
    """
    on_paper = _codes_by(
        CertificatePiece.objects.filter(piece_id__in=_ids(reached)), "certificate_id"
    )
    built_in = _codes_by(AssemblyPiece.objects.filter(piece_id__in=_ids(reached)), "assembly_id")
    related = ("customer", "assembly", "breaking_test__sample", "replaces")
    found = _certificates(reached).select_related(*related).order_by("id")
    return [_certificate(one, on_paper=on_paper, built_in=built_in) for one in found]


def tags_downstream(reached: Sql) -> list[TagRow]:
    """List the tags on the pieces reached, on their assemblies and on their papers."""
    found = Tag.objects.filter(
        Q(piece_id__in=_ids(reached))
        | Q(assembly_id__in=_assembly_ids(reached))
        | Q(certificate_id__in=_certificates(reached).values("pk"))
    )
    related = ("piece", "assembly", "certificate")
    return [_tag(tag) for tag in found.select_related(*related).order_by("id")]


def breaking_tests_downstream(reached: Sql) -> list[BreakingRow]:
    """List the breaking-force tests on the samples reached, oldest first."""
    found = BreakingTest.objects.filter(sample_id__in=_ids(reached))
    related = ("sample", "machine", "reversal")
    return [_breaking(test) for test in _in_order(found.select_related(*related))]


def breaking_tests_on_reels(reel_ids: Iterable[int]) -> list[BreakingRow]:
    """List the breaking-force tests on any rope of these reels, wherever it was wound since."""
    ids = set(reel_ids)
    return breaking_tests_downstream(piece_ids(down(whole_reels(ids)))) if ids else []


def whole_reels(reel_ids: Iterable[int]) -> Sql:
    """Return the SELECT that a walk down from these reels, at least one, begins with."""
    ids = tuple(sorted(set(reel_ids)))
    marks = ", ".join(["%s"] * len(ids))
    return Sql(_WHOLE_REELS).then(f"WHERE id IN ({marks})", *ids)


def proof_tests_downstream(reached: Sql) -> list[ProofRow]:
    """List the proof-load tests on assemblies of the pieces reached, oldest first."""
    found = ProofTest.objects.filter(assembly_id__in=_assembly_ids(reached))
    related = ("assembly", "machine", "reversal")
    return [
        {
            "code": test.code,
            "assembly": test.assembly.code,
            "machine": test.machine.code,
            "tested_at": test.tested_at.isoformat(),
            "required_n": test.required_n,
            "peak_n": test.peak_n,
            "outcome": test.outcome,
            "reversed_at": _reversed_at(test),
        }
        for test in found.select_related(*related).order_by("tested_at", "id")
    ]


_WHOLE_REELS = """SELECT id AS reel_id, CAST(0 AS bigint) AS from_mm, length_mm AS to_mm,
      'rope' AS through
    FROM inventory_reel"""


def _ids(reached: Sql) -> RawSQL:
    return RawSQL(reached.sql, reached.params)  # noqa: S611 -- made of constants; values are bound


def _assembly_ids(reached: Sql) -> QuerySet[AssemblyPiece, Any]:
    return AssemblyPiece.objects.filter(piece_id__in=_ids(reached)).values("assembly_id")


def _certificates(reached: Sql) -> QuerySet[Certificate]:
    named = CertificatePiece.objects.filter(piece_id__in=_ids(reached)).values("certificate_id")
    broken = BreakingTest.objects.filter(sample_id__in=_ids(reached)).values("pk")
    return Certificate.objects.filter(
        Q(pk__in=named) | Q(assembly_id__in=_assembly_ids(reached)) | Q(breaking_test_id__in=broken)
    )


def _codes_by(
    ties: QuerySet[CertificatePiece] | QuerySet[AssemblyPiece], owner: str
) -> dict[int, list[str]]:
    found: defaultdict[int, list[str]] = defaultdict(list)
    for owner_id, code in ties.order_by("position").values_list(owner, "piece__code"):
        found[owner_id].append(code)
    return found


def _certificate(
    one: Certificate, *, on_paper: dict[int, list[str]], built_in: dict[int, list[str]]
) -> CertificateRow:
    return {
        "number": one.number or "",
        "draft_code": one.draft_code,
        "kind": one.kind,
        "document_kind": one.document_kind,
        "state": one.state,
        "issued_at": one.issued_at.isoformat() if one.issued_at else "",
        "ended_at": one.ended_at.isoformat() if one.ended_at else "",
        "end_reason": one.end_reason,
        "replaces": (one.replaces.number or "") if one.replaces else "",
        "customer": one.customer.code if one.customer else "",
        "customer_name": one.customer.name if one.customer else "",
        "assembly": one.assembly.code if one.assembly else "",
        "breaking_test": one.breaking_test.code if one.breaking_test else "",
        "pieces": _pieces_under(one, on_paper=on_paper, built_in=built_in),
        "pdf_sha256": one.pdf_sha256,
    }


def _pieces_under(
    one: Certificate, *, on_paper: dict[int, list[str]], built_in: dict[int, list[str]]
) -> list[str]:
    if one.assembly_id is not None:
        return built_in.get(one.assembly_id, [])
    return [one.breaking_test.sample.code] if one.breaking_test else on_paper.get(one.pk, [])


def _tag(tag: Tag) -> TagRow:
    on, thing = "certificate", ""
    if tag.piece is not None:
        on, thing = "piece", tag.piece.code
    elif tag.assembly is not None:
        on, thing = "assembly", tag.assembly.code
    elif tag.certificate is not None:
        thing = tag.certificate.number or ""
    return {
        "code": tag.code,
        "on": on,
        "thing": thing,
        "issued_at": tag.issued_at.isoformat(),
        "revoked_at": tag.revoked_at.isoformat() if tag.revoked_at else "",
    }


def _in_order(tests: QuerySet[BreakingTest]) -> QuerySet[BreakingTest]:
    return tests.order_by("tested_at", "id")


def _breaking(test: BreakingTest) -> BreakingRow:
    return {
        "code": test.code,
        "sample": test.sample.code,
        "machine": test.machine.code,
        "tested_at": test.tested_at.isoformat(),
        "required_n": test.required_n,
        "peak_n": test.peak_n,
        "outcome": test.outcome,
        "reversed_at": _reversed_at(test),
    }


def _reversed_at(test: BreakingTest | ProofTest) -> str:
    reversal = reversal_of(test)
    return reversal.reversed_at.isoformat() if reversal else ""
