"""Withdrawing: with a reason, once, and in the journal."""

import pytest

from certs.services.withdraw import CannotWithdraw, withdraw_certificate
from inventory.models import JournalEntry
from inventory.rules.refusal import Refusal
from inventory.services.authority import NotAllowed
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT

pytestmark = pytest.mark.usefixtures("tables")


def withdrawn(certificate, by, reason="wrong rope"):
    return withdraw_certificate(certificate=certificate, reason=reason, by=by, at=MOMENT)


def test_it_says_from_now_on_that_it_is_void(qa_officer):
    certificate = withdrawn(issued(given_cut_length_draft()), qa_officer)
    assert (certificate.state, certificate.end_reason) == ("withdrawn", "wrong rope")
    assert JournalEntry.objects.filter(
        act="withdraw_certificate", subject=certificate.number
    ).exists()


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
