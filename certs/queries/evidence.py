"""Gathers from the record what EN 10204 asks about, for one certificate.

What follows from the evidence is decided by `certs.rules.document_type`.
"""

from collections.abc import Sequence
from datetime import date

from django.db.models import Max, QuerySet

from certs.models import (
    BreakingTest,
    Certificate,
    ProofTest,
    Representative,
    TestReversal,
    WireTest,
)
from certs.queries.decisions import decision_stands
from certs.rules.document_type import (
    Actor,
    Decision,
    DocumentType,
    Evidence,
    MillDocument,
    Results,
    SecondInspector,
    decide,
    normalise_type,
)
from inventory.models import Assembly, Hold
from inventory.models import MillDocument as FiledDocument
from inventory.queries.trace_back import RopeTrace

_FORMS = {
    FiledDocument.Form.ORIGINAL.value: MillDocument.ORIGINAL,
    FiledDocument.Form.COPY.value: MillDocument.COPY_ORIGINAL_AVAILABLE,
    FiledDocument.Form.COPY_ONLY.value: MillDocument.COPY_WITHOUT_ORIGINAL,
}
# The weakest of several papers decides.
_WEAKEST_FIRST = (
    MillDocument.NONE,
    MillDocument.FOR_ANOTHER_REEL,
    MillDocument.COPY_WITHOUT_ORIGINAL,
    MillDocument.COPY_ORIGINAL_AVAILABLE,
    MillDocument.ORIGINAL,
)


def decide_for(certificate: Certificate, *, traces: Sequence[RopeTrace], on: date) -> Decision:
    """Decide which document the evidence for this certificate supports on a day."""
    return decide(evidence_for(certificate, traces=traces, on=on))


def evidence_for(certificate: Certificate, *, traces: Sequence[RopeTrace], on: date) -> Evidence:
    """Gather the evidence that is held for a certificate's subject."""
    match certificate.kind:
        case Certificate.Kind.CUT_LENGTH:
            return _for_rope(traces)
        case Certificate.Kind.ASSEMBLY:
            return _for_assembly(certificate, traces=traces, on=on)
        case _:
            return _for_sample(certificate.breaking_test)


def supporting_proof_tests(assembly: Assembly | None) -> list[ProofTest]:
    """Give the passed proof loads that may support a certificate, the latest first.

    A failure takes with it what was passed before: only a later test can show that it is mended.
    Where a decision rule was named, it must accept.
    """
    if assembly is None:
        return []
    counting = ProofTest.objects.filter(assembly=assembly, reversal=None)
    failed_at = counting.filter(outcome=ProofTest.Outcome.FAILS).aggregate(at=Max("tested_at"))[
        "at"
    ]
    passed = counting.filter(outcome=ProofTest.Outcome.PASSES, machine_problems=[])
    if failed_at is not None:
        passed = passed.filter(tested_at__gt=failed_at)
    tests = passed.exclude(machine__holds__in=_standing_machine_holds())
    related = ("machine", "calibration", "log", "tested_by")
    found = tests.select_related(*related).order_by("-tested_at", "-id")
    return [test for test in found if decision_stands(test)]


def failed_proof_load(assembly: Assembly | None) -> ProofTest | None:
    """Give the last failed proof load of an assembly, unless one passed since.

    Only a pass that may support a certificate counts: one on a machine in doubt shows nothing.
    """
    if assembly is None:
        return None
    failures = ProofTest.objects.filter(
        assembly=assembly, reversal=None, outcome=ProofTest.Outcome.FAILS
    )
    last = failures.order_by("tested_at", "id").last()
    return None if last is None or supporting_proof_tests(assembly) else last


def reversal_of(test: BreakingTest | ProofTest | WireTest) -> TestReversal | None:
    """Give the entry by which a test was taken back; None while the test counts."""
    return getattr(test, "reversal", None)


def standing(representative: Representative | None, *, on: date) -> Representative | None:
    """Give the representative if his entry in the register covers the day."""
    if representative is None or representative.valid_from_date > on:
        return None
    until = representative.valid_to_date
    return representative if until is None or until >= on else None


def reels_without_paper(traces: Sequence[RopeTrace]) -> list[str]:
    """Name the mill's reels of which no document is held that may go out with their rope."""
    held = {trace.ancestors[-1].reel_code: _held(trace) for trace in traces}
    enough = (MillDocument.ORIGINAL, MillDocument.COPY_ORIGINAL_AVAILABLE)
    return [code for code, document in held.items() if document not in enough]


def _for_rope(traces: Sequence[RopeTrace]) -> Evidence:
    held, kind = _mill_document(traces)
    return Evidence(
        actor=Actor.INTERMEDIARY,
        mill_document=held,
        mill_document_type=kind,
        number_of_reels=len({trace.ancestors[-1].reel_id for trace in traces}) or 1,
        is_current=True,
    )


def _for_assembly(certificate: Certificate, *, traces: Sequence[RopeTrace], on: date) -> Evidence:
    held, kind = _mill_document(traces)
    is_tested = bool(supporting_proof_tests(certificate.assembly))
    first = standing(certificate.first_validator, on=on)
    return Evidence(
        actor=Actor.STOCKIST_ASSEMBLER,
        results=Results.SPECIFIC if is_tested else Results.NONE,
        has_values=is_tested,
        calibration_valid=is_tested,
        has_independent_representative=_is_independent(first),
        second_inspector=_second(standing(certificate.second_validator, on=on)),
        mill_document=held,
        mill_document_type=kind,
        number_of_reels=len({trace.ancestors[-1].reel_id for trace in traces}) or 1,
        is_current=True,
    )


def _for_sample(test: BreakingTest | None) -> Evidence:
    is_supported = test is not None and not test.machine_problems and reversal_of(test) is None
    return Evidence(
        actor=Actor.INDEPENDENT_LABORATORY,
        results=Results.SPECIFIC,
        has_values=True,
        calibration_valid=is_supported,
        is_current=True,
    )


def _mill_document(traces: Sequence[RopeTrace]) -> tuple[MillDocument, DocumentType | None]:
    """Give what is held of the makers' papers, the weakest deciding, and their common type."""
    held = [_held(trace) for trace in traces]
    weakest = min(held, key=_WEAKEST_FIRST.index, default=MillDocument.NONE)
    kinds = {_type_of(document) for trace in traces for document in trace.mill_documents}
    return weakest, kinds.pop() if len(kinds) == 1 else None


def _held(trace: RopeTrace) -> MillDocument:
    forms = [_FORMS[document.form] for document in trace.mill_documents]
    return min(forms, key=_WEAKEST_FIRST.index, default=MillDocument.NONE)


def _type_of(document: FiledDocument) -> DocumentType | None:
    if document.kind == FiledDocument.Kind.OTHER:
        return None
    return DocumentType(normalise_type(document.kind).name)


def _is_independent(first: Representative | None) -> bool:
    return bool(
        first and first.is_independent and first.capacity == Representative.Capacity.MANUFACTURER
    )


def _second(second: Representative | None) -> SecondInspector:
    if second is None:
        return SecondInspector.NONE
    if second.capacity == Representative.Capacity.PURCHASER:
        return SecondInspector.PURCHASER_REPRESENTATIVE
    if second.capacity == Representative.Capacity.OFFICIAL:
        return SecondInspector.OFFICIAL_INSPECTOR
    return SecondInspector.NONE


def _standing_machine_holds() -> QuerySet[Hold]:
    return Hold.objects.filter(testing_machine__isnull=False, released_at=None)
