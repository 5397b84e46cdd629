import pytest

from inventory.models import JournalEntry
from inventory.queries.checkpoints import log_keys
from inventory.rules.tlog_proof import check_proof, read_proof
from inventory.services.checkpoint import journal_origin
from tests.certs.papers import given_cut_length_draft, issued

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


def test_the_proof_of_a_certificate_is_checked_from_the_answer_alone(qa):
    paper = issued(given_cut_length_draft())
    answer = qa.get(f"/api/certificates/{paper.number}/proof/")
    proof = read_proof(answer.content.decode())
    head = check_proof(proof, entry=proof.extra, keys=log_keys(journal_origin()))
    assert head.size == JournalEntry.objects.count()
    assert paper.pdf_sha256 in proof.extra.decode()


def test_a_draft_has_none(qa):
    draft = given_cut_length_draft()
    assert qa.get(f"/api/certificates/{draft.draft_code}/proof/").status_code == 404
