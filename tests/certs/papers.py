"""Invented certificates for tests, made through the services."""

from datetime import date

from certs.models import BreakingTest, Certificate, Representative
from certs.services.drafts import Wording, draft_assembly, draft_breaking, draft_cut_length
from certs.services.issue import issue_certificate
from certs.services.representatives import register_representative
from inventory.models import Assembly, CutPiece, Party, Reel
from inventory.rules.roles import Role
from tests.certs.checks import given_good_check
from tests.certs.claims import given_basis
from tests.factories import (
    MOMENT,
    given_assembly,
    given_customer,
    given_keys,
    given_mill_document,
    given_person,
    given_piece,
    given_reel,
)


def given_documented_reel(**facts) -> Reel:
    """A reel with a mill document, a check and a named basis: its pieces can be certified.

    There are keys to sign with as well.
    """
    given_keys()
    reel = given_reel(mill_document=given_mill_document(), **facts)
    given_good_check(reel)
    given_basis(reel)
    return reel


def given_certifiable_piece(*, reel: Reel | None = None) -> CutPiece:
    return given_piece(reel=reel or given_documented_reel())


def given_certifiable_assembly() -> Assembly:
    reel = given_documented_reel()
    return given_assembly(pieces=[given_piece(reel=reel, length_m=6)])


def given_representative(
    capacity: str = Representative.Capacity.MANUFACTURER,
    *,
    is_independent: bool = True,
    valid_to_date: date | None = None,
) -> Representative:
    return register_representative(
        person=given_person(Role.INSPECTION_REPRESENTATIVE),
        capacity=capacity,
        organisation="Invented Stockist",
        is_independent=is_independent,
        valid_from_date=date(2020, 1, 1),
        valid_to_date=valid_to_date,
        by=given_person(Role.ADMINISTRATOR),
        at=MOMENT,
    )


def given_cut_length_draft(
    *pieces: CutPiece, customer: Party | None = None, remarks: str = ""
) -> Certificate:
    given_keys()
    chosen = pieces or (given_certifiable_piece(),)
    wording = Wording(
        document_kind="statement",
        customer=customer or given_customer(),
        customer_reference="PO-77",
        remarks=remarks,
    )
    return draft_cut_length(pieces=chosen, wording=wording, by=given_person(), at=MOMENT)


def given_assembly_draft(assembly: Assembly, *, kind: str = "3.1", **validators) -> Certificate:
    given_keys()
    wording = Wording(document_kind=kind, customer=given_customer(), **validators)
    return draft_assembly(assembly=assembly, wording=wording, by=given_person(), at=MOMENT)


def given_breaking_draft(test: BreakingTest) -> Certificate:
    given_keys()
    wording = Wording(document_kind="laboratory", customer=given_customer())
    return draft_breaking(breaking_test=test, wording=wording, by=given_person(), at=MOMENT)


def issued(draft: Certificate) -> Certificate:
    return issue_certificate(certificate=draft, by=given_person(), at=MOMENT)
