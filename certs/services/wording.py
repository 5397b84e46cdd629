"""Decides what a draft may choose, and whether a choice goes with its subject.

Whether the evidence supports it is told by `certs.queries.checklist`.
"""

from dataclasses import dataclass

from certs.models import Certificate, Representative
from certs.queries.marks import check_mark_of
from inventory.models import Party
from inventory.rules.language import Language
from inventory.rules.refusal import Refusal


class CannotDraft(Refusal):
    """The certificate cannot be drafted."""


@dataclass(frozen=True, slots=True)
class Wording:
    """What a draft may choose. All of it appears on the paper.

    `marked_kg` is the working load limit marked on an assembly; nothing else has one. `language`
    is that of the purchaser where none is chosen.
    """

    document_kind: str
    customer: Party | None = None
    customer_reference: str = ""
    remarks: str = ""
    first_validator: Representative | None = None
    second_validator: Representative | None = None
    marked_kg: int | None = None
    language: str = ""


def put_wording(draft: Certificate, wording: Wording) -> None:
    """Put a wording on a draft; nothing is saved.

    Raises:
        CannotDraft: a party that is no customer, or a load marked on what is no assembly.
        MarkedTooHigh: as for `draft_assembly`.
    """
    _check_customer(wording)
    _check_marked(draft, wording)
    draft.document_kind = wording.document_kind
    draft.customer = wording.customer
    draft.customer_reference = wording.customer_reference
    draft.remarks = wording.remarks
    draft.first_validator = wording.first_validator
    draft.second_validator = wording.second_validator
    draft.marked_kg = wording.marked_kg
    usual = wording.customer.language if wording.customer else Language.ENGLISH.value
    draft.language = wording.language or usual


def wording_of(certificate: Certificate) -> Wording:
    """Give the wording of a certificate, to start a correction from."""
    return Wording(
        document_kind=certificate.document_kind,
        customer=certificate.customer,
        customer_reference=certificate.customer_reference,
        remarks=certificate.remarks,
        first_validator=certificate.first_validator,
        second_validator=certificate.second_validator,
        marked_kg=certificate.marked_kg,
        language=certificate.language,
    )


def _check_customer(wording: Wording) -> None:
    if wording.customer and wording.customer.kind != Party.Kind.CUSTOMER:
        raise CannotDraft("The paper goes to a customer, not to a maker.", field="customer")


def _check_marked(blank: Certificate, wording: Wording) -> None:
    if wording.marked_kg is None:
        return
    if blank.assembly is None:
        raise CannotDraft("Only an assembly is marked with a load.", field="marked_kg")
    check_mark_of(blank.assembly, wording.marked_kg)
