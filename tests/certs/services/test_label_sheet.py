import pytest

from certs.models import Tag
from certs.services import label_sheet
from certs.services.label_sheet import CannotPrintLabels, print_labels
from certs.services.tags import issue_tag, revoke_tag
from inventory.rules.refusal import Refusal
from inventory.services.authority import NotAllowed
from tests.factories import MOMENT, given_piece, given_sample


def printed(*things, by, skip=0):
    return print_labels(things=things, sheet="a4-medium", skip=skip, by=by, at=MOMENT)


def test_a_label_is_printed_with_a_new_tag(stores_hand):
    piece = given_piece()
    assert printed(piece, by=stores_hand).startswith(b"%PDF")
    assert Tag.objects.get().piece == piece


def test_a_revoked_tag_is_not_printed_again(qa_officer):
    piece = given_piece()
    old = issue_tag(piece=piece, by=qa_officer, at=MOMENT)
    revoke_tag(tag=old, reason="torn off", by=qa_officer, at=MOMENT)
    printed(piece, by=qa_officer)
    assert Tag.objects.filter(piece=piece, revoked_at=None).count() == 1


def test_a_sample_gets_no_label_and_nothing_is_tagged(qa_officer):
    with pytest.raises(Refusal, match="gets no tag"):
        printed(given_piece(), given_sample(), by=qa_officer)
    assert not Tag.objects.exists()


def test_more_than_a_stack_of_sheets_is_refused(qa_officer, monkeypatch):
    monkeypatch.setattr(label_sheet, "MOST_LABELS", 1)
    with pytest.raises(CannotPrintLabels, match="at most 1"):
        printed(given_piece(), given_piece(), by=qa_officer)


def test_an_auditor_prints_none(auditor):
    with pytest.raises(NotAllowed):
        printed(given_piece(), by=auditor)
