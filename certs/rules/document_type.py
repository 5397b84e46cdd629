"""Which inspection document of EN 10204 may leave the house on the evidence held, and why.

It decides types only. That a document is complete, signed and about the right goods is left to
services; what EN 10204 asks in full stands in the standard.
"""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from certs.rules.document_evidence import (
    Actor,
    DocumentType,
    Evidence,
    InspectionType,
    MillDocument,
    Results,
    SecondInspector,
    normalise_type,
)
from certs.rules.document_ground import Decision, Result
from inventory.rules.refusal import Refusal

__all__ = [
    "Actor",
    "Decision",
    "DocumentType",
    "Evidence",
    "InspectionType",
    "MillDocument",
    "Result",
    "Results",
    "SecondInspector",
    "decide",
    "may_label",
    "normalise_type",
]

_SPECIFIC: Final = frozenset({Results.SPECIFIC, Results.SPECIFIC_FROM_INPUT_MAKER})
# What is held of the maker's document, and the case that forbids passing it on.
_MILL_DOCUMENT_FAULTS: Final = MappingProxyType(
    {
        MillDocument.NONE: "no mill document",
        MillDocument.COPY_WITHOUT_ORIGINAL: "DT10",
        MillDocument.FOR_ANOTHER_REEL: "DT11",
    }
)


def decide(evidence: Evidence) -> Decision:
    """Return what the evidence supports, EN 10204:2004.

    A document that is no longer current stops everything; then each actor has his own question.
    """
    if not evidence.is_current:
        return _block("DT20")
    return _DECIDE[evidence.actor](evidence)


def may_label(wanted: str, decision: Decision) -> str | None:
    """Return why a document may not be called `wanted`, or None when it may.

    `wanted` is a `DocumentType` or a type of EN 10204 as somebody writes it.
    """
    if wanted == DocumentType.STATEMENT:
        return None if decision.may_state else decision.reason
    if wanted in decision.permitted:
        return None
    if wanted != DocumentType.LABORATORY:
        try:
            name, historic = normalise_type(wanted)
        except Refusal as refusal:
            return refusal.message
        if historic:
            return f"“{wanted}” is a name from before 2004; no new document may bear it."
        if name in decision.permitted:
            return None
    allowed = ", ".join(decision.permitted) or "none"
    return f"Not as {wanted} (permitted: {allowed}). {decision.reason}"


def _block(case: str, *permitted: DocumentType, may_state: bool = False) -> Decision:
    return Decision(Result.BLOCK, permitted, case, may_state=may_state)


def _as_intermediary(evidence: Evidence) -> Decision:
    """Decide for goods that keep their properties: stored, cut to length, wound again."""
    fault = _MILL_DOCUMENT_FAULTS.get(evidence.mill_document, "")
    if fault:
        return _block(fault)
    if evidence.wants_own_document:
        return _block("DT13", may_state=True)
    kind = evidence.mill_document_type
    return Decision(
        Result.HAND_ON,
        () if kind is None else (kind,),
        "DT12" if evidence.number_of_reels > 1 else "DT09",
        passes_on=True,
        documents=evidence.number_of_reels,
        may_state=True,
    )


def _as_assembler(evidence: Evidence) -> Decision:
    """Decide for the maker of an assembly, who is still an intermediary for its rope."""
    fault = _MILL_DOCUMENT_FAULTS.get(evidence.mill_document, "") or _results_fault(evidence)
    if fault:
        return _blocked_results(fault)
    permitted = _supported(evidence)
    if evidence.results is Results.NONE:
        case = "DT14"
    elif evidence.results not in _SPECIFIC:
        case = "DT15"
    else:
        case = _case_of_specific(evidence, plain="DT17", first="DT16", second="DT18")
    return Decision(
        Result.ISSUE,
        _as_ordered(permitted, evidence.ordered_type),
        case,
        passes_on=True,
        documents=evidence.number_of_reels,
        may_state=True,
    )


def _as_manufacturer(evidence: Evidence) -> Decision:
    fault = _results_fault(evidence)
    if fault:
        return _blocked_results(fault)
    if evidence.results is Results.NONE:
        case = "DT01"
    elif evidence.results not in _SPECIFIC:
        case = "DT02"
    else:
        carried = evidence.results is Results.SPECIFIC_FROM_INPUT_MAKER
        case = _case_of_specific(
            evidence,
            plain="DT04",
            first="DT08" if carried else "DT03",
            second="DT08" if carried else "DT05",
        )
    permitted = _as_ordered(_supported(evidence), evidence.ordered_type)
    return Decision(Result.ISSUE, permitted, case, may_state=True)


def _as_laboratory(evidence: Evidence) -> Decision:
    if evidence.results is not Results.SPECIFIC:
        return _block("no laboratory results")
    fault = _results_fault(evidence)
    if fault:
        return _block(fault)
    return Decision(Result.ISSUE, (DocumentType.LABORATORY,), "DT19")


def _results_fault(evidence: Evidence) -> str:
    """Return the case that forbids using the results that are claimed, or ""."""
    if evidence.results is Results.NONE:
        return ""
    if not evidence.has_values:
        return "DT07"
    match evidence.results:
        case Results.SPECIFIC if not evidence.calibration_valid:
            return "DT06"
        case Results.SPECIFIC_FROM_INPUT_MAKER if not evidence.has_input_document:
            return "no input document"
        case _:
            return ""


def _blocked_results(case: str) -> Decision:
    """Block; where only the measurement is in doubt, conformity may still be declared."""
    return _block(case, *([DocumentType.DECLARATION] if case == "DT06" else []))


def _case_of_specific(evidence: Evidence, *, plain: str, first: str, second: str) -> str:
    if not evidence.has_independent_representative:
        return plain
    return first if evidence.second_inspector is SecondInspector.NONE else second


def _supported(evidence: Evidence) -> tuple[DocumentType, ...]:
    """Return the types that results and validators support, the lowest first."""
    if evidence.results is Results.NONE:
        return (DocumentType.DECLARATION,)
    reports = (DocumentType.DECLARATION, DocumentType.TEST_REPORT)
    if evidence.results not in _SPECIFIC or not evidence.has_independent_representative:
        return reports
    certificates: tuple[DocumentType, ...] = (DocumentType.CERTIFICATE_31,)
    if evidence.second_inspector is not SecondInspector.NONE:
        certificates += (DocumentType.CERTIFICATE_32,)
    # Results carried over from the input maker are quoted as specific, or not at all.
    is_carried = evidence.results is Results.SPECIFIC_FROM_INPUT_MAKER
    return certificates if is_carried else reports + certificates


def _as_ordered(
    permitted: tuple[DocumentType, ...], ordered: DocumentType | None
) -> tuple[DocumentType, ...]:
    """Keep to the type agreed at order where the evidence supports it."""
    return (ordered,) if ordered is not None and ordered in permitted else permitted


_DECIDE: Final[Mapping[Actor, Callable[[Evidence], Decision]]] = MappingProxyType(
    {
        Actor.MANUFACTURER_OF_ITEM: _as_manufacturer,
        Actor.INTERMEDIARY: _as_intermediary,
        Actor.STOCKIST_ASSEMBLER: _as_assembler,
        Actor.INDEPENDENT_LABORATORY: _as_laboratory,
    }
)
