"""Drafting: from the record only, and never twice for one correction."""

import pytest

from certs.models import Certificate
from certs.services.drafts import (
    CannotDraft,
    Wording,
    discard_draft,
    draft_correction,
    draft_cut_length,
    wording_of,
)
from inventory.models import CutPiece, JournalEntry
from inventory.services.authority import NotAllowed
from inventory.services.cut import reverse_cut
from inventory.services.take_back import take_back_piece
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.factories import (
    MOMENT,
    given_customer,
    given_delivery,
    given_mill,
    given_piece,
    given_sample,
)

pytestmark = pytest.mark.usefixtures("tables")

STATEMENT = Wording(document_kind="statement")


def test_a_draft_names_its_pieces_in_order_and_has_no_number():
    first, second = given_piece(), given_piece()
    draft = given_cut_length_draft(first, second)
    assert (draft.state, draft.number) == ("draft", None)
    assert [tie.piece for tie in draft.piece_ties.order_by("position")] == [first, second]


def test_drafting_is_journalled_with_codes_only():
    draft = given_cut_length_draft()
    entry = JournalEntry.objects.get(subject=draft.draft_code)
    assert entry.act == "draft_certificate"
    assert "Invented Customer" not in entry.canonical


def test_no_pieces_are_refused(qa_officer):
    with pytest.raises(CannotDraft, match="at least one"):
        draft_cut_length(pieces=[], wording=STATEMENT, by=qa_officer, at=MOMENT)


def test_a_test_sample_is_refused(qa_officer):
    sample = given_sample()
    with pytest.raises(CannotDraft, match=sample.code):
        draft_cut_length(pieces=[sample], wording=STATEMENT, by=qa_officer, at=MOMENT)


def test_a_piece_whose_cut_was_reversed_meanwhile_is_refused(qa_officer):
    piece = given_certifiable_piece()
    as_read_before = CutPiece.objects.get(pk=piece.pk)
    reverse_cut(cut=piece, reason="never parted", by=qa_officer, at=MOMENT)
    with pytest.raises(CannotDraft, match=f"Not cut for supply.*{piece.code}"):
        draft_cut_length(pieces=[as_read_before], wording=STATEMENT, by=qa_officer, at=MOMENT)


def test_a_piece_named_twice_is_refused(qa_officer):
    piece = given_piece()
    with pytest.raises(CannotDraft, match="twice"):
        draft_cut_length(pieces=[piece, piece], wording=STATEMENT, by=qa_officer, at=MOMENT)


def test_a_mill_is_no_customer(qa_officer):
    wording = Wording(document_kind="statement", customer=given_mill())
    with pytest.raises(CannotDraft, match="customer"):
        draft_cut_length(pieces=[given_piece()], wording=wording, by=qa_officer, at=MOMENT)


@pytest.mark.parametrize("person", ["stores_hand", "bench_hand", "auditor", "administrator"])
def test_only_the_qa_officer_drafts(person, request):
    with pytest.raises(NotAllowed):
        draft_cut_length(
            pieces=[given_piece()],
            wording=STATEMENT,
            by=request.getfixturevalue(person),
            at=MOMENT,
        )


def test_a_piece_that_came_back_is_not_drafted_again(qa_officer, stores_hand):
    piece = given_certifiable_piece()
    given_delivery(piece)
    take_back_piece(piece=piece, is_turned=True, location="", by=stores_hand, at=MOMENT)
    with pytest.raises(CannotDraft, match=f"taken back: {piece.code}"):
        given_cut_length_draft(piece)


def test_a_discarded_draft_leaves_a_journal_entry(qa_officer):
    draft = given_cut_length_draft()
    discard_draft(certificate=draft, by=qa_officer, at=MOMENT)
    assert not Certificate.objects.exists()
    assert JournalEntry.objects.filter(act="discard_draft", subject=draft.draft_code).exists()


def test_an_issued_certificate_cannot_be_discarded(qa_officer):
    certificate = issued(given_cut_length_draft())
    with pytest.raises(CannotDraft, match="withdraw"):
        discard_draft(certificate=certificate, by=qa_officer, at=MOMENT)


def test_a_correction_starts_from_the_old_wording_and_pieces(qa_officer):
    piece = given_certifiable_piece()
    old = issued(given_cut_length_draft(piece, customer=given_customer()))
    draft = draft_correction(
        certificate=old, reason="wrong order", wording=wording_of(old), by=qa_officer, at=MOMENT
    )
    assert (draft.replaces, draft.replace_reason) == (old, "wrong order")
    assert draft.customer_reference == "PO-77"
    assert [tie.piece for tie in draft.piece_ties.all()] == [piece]


def test_a_second_correction_of_the_same_paper_is_refused(qa_officer):
    old = issued(given_cut_length_draft())
    asked = {"certificate": old, "reason": "x", "wording": STATEMENT, "by": qa_officer}
    draft_correction(**asked, at=MOMENT)
    with pytest.raises(CannotDraft, match="drafted already"):
        draft_correction(**asked, at=MOMENT)


def test_a_draft_needs_no_correction(qa_officer):
    draft = given_cut_length_draft()
    with pytest.raises(CannotDraft, match="in force"):
        draft_correction(certificate=draft, reason="x", wording=STATEMENT, by=qa_officer, at=MOMENT)


def test_a_correction_without_a_reason_is_refused(qa_officer):
    old = issued(given_cut_length_draft())
    with pytest.raises(CannotDraft, match="why"):
        draft_correction(certificate=old, reason=" ", wording=STATEMENT, by=qa_officer, at=MOMENT)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        pytest.param({"customer_reference": "x" * 61}, "customer_reference", id="reference"),
        pytest.param({"remarks": "x" * 401}, "remarks", id="remarks"),
        pytest.param({"document_kind": "4.1"}, "document_kind", id="no kind of document"),
    ],
)
def test_what_does_not_fit_the_paper_is_refused_by_field(changed, field, qa_officer):
    wording = Wording(**{"document_kind": "statement"} | changed)
    with pytest.raises(CannotDraft) as refused:
        draft_cut_length(pieces=[given_piece()], wording=wording, by=qa_officer, at=MOMENT)
    assert refused.value.field == field
    assert not Certificate.objects.exists()
