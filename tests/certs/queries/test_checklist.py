"""The checklist says what a draft lacks, and where it can be mended."""

from datetime import date

import pytest

from certs.models import Representative
from certs.queries.checklist import checklist, lacking
from certs.services.drafts import draft_correction, wording_of
from inventory.services.take_back import take_back_piece
from tests.certs.checks import given_good_check
from tests.certs.claims import given_basis, given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_breaking_draft,
    given_certifiable_assembly,
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
    given_representative,
    issued,
)
from tests.factories import (
    MOMENT,
    given_delivery,
    given_hold,
    given_machine,
    given_mill_document,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = pytest.mark.usefixtures("tables")

DAY = MOMENT.date()


def missing(draft, *, on=DAY) -> dict[str, str]:
    return {item.name: item.text for item in lacking(checklist(draft, on=on))}


def test_a_documented_piece_lacks_nothing():
    assert missing(given_cut_length_draft()) == {}


def came_back(piece):
    given_delivery(piece)
    take_back_piece(piece=piece, is_turned=True, location="", by=given_person(), at=MOMENT)


def test_a_piece_that_came_back_since_the_draft_is_not_certified():
    piece = given_certifiable_piece()
    draft = given_cut_length_draft(piece)
    came_back(piece)
    assert piece.code in missing(draft)["Pieces"]


def test_a_paper_is_corrected_whatever_came_back_since(qa_officer):
    piece = given_certifiable_piece()
    old = issued(given_cut_length_draft(piece))
    came_back(piece)
    draft = draft_correction(
        certificate=old, reason="name", wording=wording_of(old), by=qa_officer, at=MOMENT
    )
    assert missing(draft) == {}


def test_a_reel_without_a_basis_is_named_as_the_place_to_mend():
    piece = given_piece(reel=given_reel(mill_document=given_mill_document()))
    given_good_check(piece.reel)
    items = lacking(checklist(given_cut_length_draft(piece), on=DAY))
    assert [(item.name, item.about) for item in items] == [("Breaking force", piece.reel.code)]


def test_a_copy_without_its_original_supports_nothing():
    """EN 10204:2004 clause 6."""
    reel = given_reel(mill_document=given_mill_document(form="copy_only"))
    given_basis(reel)
    piece, good = given_piece(reel=reel), given_certifiable_piece()
    found = missing(given_cut_length_draft(good, piece))
    assert "original" in found["Kind of document"]
    assert found["Kind of document"].endswith(f"Look at {reel.code}.")


def test_rope_without_a_maker_document_is_not_passed_on():
    reel = given_reel()
    given_basis(reel)
    assert "Kind of document" in missing(given_cut_length_draft(given_piece(reel=reel)))


def test_a_standing_hold_is_named():
    piece = given_certifiable_piece()
    hold = given_hold(piece)
    assert hold.code in missing(given_cut_length_draft(piece))["Holds"]


def test_an_assembly_without_proof_load_supports_a_21_only():
    assembly = given_certifiable_assembly()
    assert missing(given_assembly_draft(assembly, kind="2.1")) == {}
    assert "Kind of document" in missing(given_assembly_draft(assembly, kind="2.2"))


def test_a_representative_whose_entry_has_run_out_validates_nothing():
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    past = given_representative(valid_to_date=date(2025, 12, 31))
    found = missing(given_assembly_draft(assembly, first_validator=past))
    assert {"Kind of document", "Entry in the register"} <= set(found)


def test_a_32_needs_a_second_inspector():
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    first = given_representative()
    assert "Kind of document" in missing(
        given_assembly_draft(assembly, kind="3.2", first_validator=first)
    )
    second = given_representative(Representative.Capacity.OFFICIAL)
    draft = given_assembly_draft(
        assembly, kind="3.2", first_validator=first, second_validator=second
    )
    assert missing(draft) == {}


def test_a_proof_load_on_a_machine_out_of_calibration_supports_nothing():
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly, machine=given_machine(is_calibrated=False))
    draft = given_assembly_draft(assembly, first_validator=given_representative())
    assert "Proof-load test" in missing(draft)


def test_a_machine_under_hold_supports_nothing():
    assembly = given_certifiable_assembly()
    machine = given_machine()
    given_proof_test(assembly=assembly, machine=machine)
    given_hold(machine)
    draft = given_assembly_draft(assembly, first_validator=given_representative())
    assert "Proof-load test" in missing(draft)


def test_a_breaking_report_needs_a_machine_that_was_in_calibration():
    sample = given_sample(reel=given_documented_reel())
    machine = given_machine(is_calibrated=False)
    test = given_breaking_test(sample=sample, peak_n=105_000, machine=machine)
    assert {"Testing machine", "Kind of document"} <= set(missing(given_breaking_draft(test)))
