"""A paper of its own: drafted from the record alone, once, and changed while it is a draft."""

import pytest

from certs.models import Certificate
from certs.queries.draft_defaults import defaults_for
from certs.queries.papers_to_issue import drafts_to_issue, things_without_paper
from certs.services.change_draft import change_draft
from certs.services.own_paper import draft_each, draft_own
from certs.services.wording import CannotDraft, Wording
from inventory.models import JournalEntry
from inventory.rules.language import Language
from inventory.rules.refusal import Refusal
from inventory.services.authority import NotAllowed
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_certifiable_assembly,
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
    issued,
)
from tests.factories import (
    MOMENT,
    given_customer,
    given_delivery,
    given_piece,
    given_sample,
)

pytestmark = pytest.mark.usefixtures("tables")


def test_a_delivered_piece_starts_from_its_delivery(qa_officer):
    customer = given_customer("Invented Yard")
    customer.language = Language.GERMAN.value
    customer.save(update_fields=["language"])
    piece = given_certifiable_piece()
    given_delivery(piece, customer=customer)
    draft = draft_own(thing=piece, by=qa_officer, at=MOMENT)
    assert (draft.customer, draft.language) == (customer, "de")
    assert draft.document_kind == "statement"
    assert [tie.piece for tie in draft.piece_ties.all()] == [piece]


# EN 10204:2004, 3.2 and 4.1: a test report where results of the goods are held, a declaration where
# none are, and no inspection certificate without a representative who takes part.
@pytest.mark.parametrize(
    ("is_tested", "kind"),
    [pytest.param(False, "2.1", id="not tested"), pytest.param(True, "2.2", id="proof-loaded")],
)
def test_the_kind_is_the_highest_that_the_evidence_supports(is_tested, kind, qa_officer):
    assembly = given_certifiable_assembly()
    if is_tested:
        given_proof_test(assembly=assembly)
    assert defaults_for(assembly, on=MOMENT.date()).document_kind == kind


def test_asked_twice_it_gives_the_draft_that_is_there(qa_officer):
    piece = given_certifiable_piece()
    draft = draft_own(thing=piece, by=qa_officer, at=MOMENT)
    assert draft_own(thing=piece, by=qa_officer, at=MOMENT) == draft
    paper = issued(draft)
    with pytest.raises(CannotDraft, match=f"{paper.number} in force"):
        draft_own(thing=piece, by=qa_officer, at=MOMENT)


def test_a_draft_for_several_pieces_is_none_of_its_own(qa_officer):
    reel = given_documented_reel()
    first, second = given_piece(reel=reel), given_piece(reel=reel)
    given_cut_length_draft(first, second)
    assert draft_own(thing=first, by=qa_officer, at=MOMENT).piece_ties.count() == 1


def test_a_breaking_test_gets_its_report(qa_officer):
    test = given_breaking_test(sample=given_sample(reel=given_documented_reel()), peak_n=99_000)
    draft = draft_own(thing=test, by=qa_officer, at=MOMENT)
    assert (draft.kind, draft.document_kind) == ("breaking", "laboratory")


def test_each_of_a_reel_gets_one_or_none_does(qa_officer):
    reel = given_documented_reel()
    pieces = [given_piece(reel=reel) for _ in range(3)]
    given_cut_length_draft(pieces[0])
    assert things_without_paper(reel.code) == pieces[1:]
    with pytest.raises(CannotDraft, match="Not cut for supply"):
        draft_each(things=[*pieces[1:], given_sample(reel=reel)], by=qa_officer, at=MOMENT)
    assert Certificate.objects.count() == 1
    made = draft_each(things=pieces[1:], by=qa_officer, at=MOMENT)
    assert len(made) == 2
    assert things_without_paper(reel.code) == []
    assert list(drafts_to_issue(reel.code))[1:] == made


def test_a_code_of_nothing_has_no_drafts(db):
    with pytest.raises(Refusal, match="no order, delivery") as refused:
        drafts_to_issue("Z-1")
    assert refused.value.field == "of"


def test_nothing_chosen_is_refused(qa_officer):
    with pytest.raises(CannotDraft, match="at least one"):
        draft_each(things=[], by=qa_officer, at=MOMENT)


def test_a_draft_may_be_worded_anew_and_the_journal_binds_it(qa_officer):
    draft = given_cut_length_draft()
    wording = Wording(document_kind="statement", remarks="Painted ends.", language="pl")
    changed = change_draft(certificate=draft, wording=wording, by=qa_officer, at=MOMENT)
    assert (changed.remarks, changed.customer, changed.language) == ("Painted ends.", None, "pl")
    entry = JournalEntry.objects.latest("id")
    assert (entry.act, entry.subject) == ("draft_certificate", draft.draft_code)
    assert '"changed":true' in entry.canonical


def test_what_is_issued_is_worded_no_more(qa_officer):
    paper = issued(given_cut_length_draft())
    with pytest.raises(CannotDraft, match="is issued"):
        change_draft(
            certificate=paper, wording=Wording(document_kind="statement"), by=qa_officer, at=MOMENT
        )


@pytest.mark.parametrize(
    "act",
    [
        pytest.param(lambda by: draft_own(thing=given_piece(), by=by, at=MOMENT), id="one"),
        pytest.param(lambda by: draft_each(things=[], by=by, at=MOMENT), id="each"),
        pytest.param(
            lambda by: change_draft(
                certificate=given_cut_length_draft(), wording=Wording("statement"), by=by, at=MOMENT
            ),
            id="change",
        ),
    ],
)
def test_only_who_drafts_may(act, auditor):
    with pytest.raises(NotAllowed):
        act(auditor)
