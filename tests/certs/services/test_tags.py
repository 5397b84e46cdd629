"""Tags: random, for one thing, revoked once."""

import hashlib
import json

import pytest

from certs.services.tags import CannotTag, issue_tag, new_code, revoke_tag
from inventory.models import CutPiece, JournalEntry
from inventory.rules.tag_code import is_well_formed
from inventory.services.authority import NotAllowed
from inventory.services.cut import reverse_cut
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT, given_assembly, given_piece, given_sample


def test_codes_are_well_formed_and_differ():
    codes = {new_code() for _ in range(200)}
    assert len(codes) == 200
    assert all(is_well_formed(code) for code in codes)


def test_a_piece_may_have_a_second_tag(stores_hand):
    piece = given_piece()
    tags = [issue_tag(piece=piece, by=stores_hand, at=MOMENT) for _ in range(2)]
    assert tags[0].code != tags[1].code


def test_an_assembly_is_tagged(stores_hand):
    assembly = given_assembly()
    assert issue_tag(assembly=assembly, by=stores_hand, at=MOMENT).assembly == assembly


@pytest.mark.parametrize("count", [0, 2], ids=["nothing named", "two things named"])
def test_exactly_one_thing_is_named(stores_hand, count):
    named = {"piece": given_piece(), "assembly": given_assembly()} if count else {}
    with pytest.raises(CannotTag, match="one"):
        issue_tag(**named, by=stores_hand, at=MOMENT)


def test_a_sample_gets_no_tag(stores_hand):
    with pytest.raises(CannotTag, match="not a piece for supply"):
        issue_tag(piece=given_sample(), by=stores_hand, at=MOMENT)


def test_a_piece_whose_cut_was_reversed_meanwhile_gets_no_tag(qa_officer):
    piece = given_piece()
    as_read_before = CutPiece.objects.get(pk=piece.pk)
    reverse_cut(cut=piece, reason="never parted", by=qa_officer, at=MOMENT)
    with pytest.raises(CannotTag, match="not a piece for supply"):
        issue_tag(piece=as_read_before, by=qa_officer, at=MOMENT)


def test_the_auditor_issues_no_tag(auditor):
    with pytest.raises(NotAllowed):
        issue_tag(piece=given_piece(), by=auditor, at=MOMENT)


def test_a_tag_is_revoked_once(qa_officer):
    tag = issue_tag(piece=given_piece(), by=qa_officer, at=MOMENT)
    revoke_tag(tag=tag, reason="scuffed", by=qa_officer, at=MOMENT)
    with pytest.raises(CannotTag, match="already"):
        revoke_tag(tag=tag, reason="again", by=qa_officer, at=MOMENT)


def test_a_reason_is_needed(qa_officer):
    tag = issue_tag(piece=given_piece(), by=qa_officer, at=MOMENT)
    with pytest.raises(CannotTag, match="why"):
        revoke_tag(tag=tag, reason="", by=qa_officer, at=MOMENT)


def test_a_reason_that_is_too_long_is_refused(qa_officer):
    tag = issue_tag(piece=given_piece(), by=qa_officer, at=MOMENT)
    with pytest.raises(CannotTag, match="300"):
        revoke_tag(tag=tag, reason="x" * 301, by=qa_officer, at=MOMENT)


@pytest.mark.usefixtures("tables")
def test_a_certificates_own_code_is_never_revoked(qa_officer):
    tag = issued(given_cut_length_draft()).tags.get()
    with pytest.raises(CannotTag, match="withdraw"):
        revoke_tag(tag=tag, reason="x", by=qa_officer, at=MOMENT)


def test_the_journal_holds_the_hash_of_a_code_and_never_the_code(qa_officer):
    tag = issue_tag(piece=given_piece(), by=qa_officer, at=MOMENT)
    revoke_tag(tag=tag, reason="scuffed", by=qa_officer, at=MOMENT)
    entries = JournalEntry.objects.filter(act__in=["issue_tag", "revoke_tag"])
    told = [json.loads(entry.canonical)["detail"]["tag_sha256"] for entry in entries]
    assert told == [hashlib.sha256(tag.code.encode()).hexdigest()] * 2
    texts = JournalEntry.objects.values_list("canonical", flat=True)
    assert not any(tag.code in text for text in texts)
