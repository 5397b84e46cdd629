"""Withdrawing: with a reason, once, and in the journal."""

import pytest

from certs.services.withdraw import CannotWithdraw, withdraw_certificate
from inventory.models import JournalEntry
from inventory.rules.refusal import Refusal
from inventory.services.authority import NotAllowed
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT
from tests.inventory.services.record import last_entry

pytestmark = pytest.mark.usefixtures("tables")


def withdrawn(certificate, by, reason="wrong rope"):
    return withdraw_certificate(certificate=certificate, reason=reason, by=by, at=MOMENT)


def test_it_says_from_now_on_that_it_is_void(qa_officer):
    certificate = withdrawn(issued(given_cut_length_draft()), qa_officer)
    assert (certificate.state, certificate.end_reason) == ("withdrawn", "wrong rope")
    assert JournalEntry.objects.filter(
        act="withdraw_certificate", subject=certificate.number
    ).exists()


def test_the_journal_binds_the_reason_and_does_not_tell_it(qa_officer):
    withdrawn(issued(given_cut_length_draft()), qa_officer, reason="as Mr Example asked")
    _, _, detail = last_entry()
    # Computed with coreutils' sha256sum over the same bytes.
    assert detail == {
        "reason_sha256": "329a3d6cd72300ce59a63c18c87a3fc1864cd0b596a21476773c3d73196bb52e"
    }


def test_the_snapshot_stays_as_it_was(qa_officer):
    certificate = issued(given_cut_length_draft())
    before = certificate.snapshot
    assert withdrawn(certificate, qa_officer).snapshot == before


def test_a_reason_is_needed(qa_officer):
    with pytest.raises(CannotWithdraw, match="why"):
        withdrawn(issued(given_cut_length_draft()), qa_officer, reason=" ")


def test_a_draft_is_not_withdrawn(qa_officer):
    with pytest.raises(Refusal, match="draft"):
        withdrawn(given_cut_length_draft(), qa_officer)


def test_it_is_withdrawn_once(qa_officer):
    certificate = withdrawn(issued(given_cut_length_draft()), qa_officer)
    with pytest.raises(Refusal, match="last state"):
        withdrawn(certificate, qa_officer)


def test_the_auditor_changes_nothing(auditor):
    with pytest.raises(NotAllowed):
        withdrawn(issued(given_cut_length_draft()), auditor)


def test_a_reason_that_is_too_long_is_refused(qa_officer):
    with pytest.raises(CannotWithdraw, match="400"):
        withdrawn(issued(given_cut_length_draft()), qa_officer, reason="x" * 401)
