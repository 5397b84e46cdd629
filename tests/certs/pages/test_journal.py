"""The journal as people see it, and what it hands out for others to check."""

import pytest
from django.db import connection
from django.urls import reverse

from inventory.models import JournalEntry, JournalHead, MerkleNode
from inventory.models.guards import take_down
from inventory.models.ledger_guards import GUARDS
from inventory.queries.checkpoints import log_keys, standing_checkpoint
from inventory.queries.log_proofs import proof_of_entry
from inventory.rules.checkpoint import open_checkpoint, short_root
from inventory.rules.tlog_proof import check_proof, read_proof
from inventory.services.checkpoint import journal_origin
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import given_keys, given_piece

pytestmark = pytest.mark.django_db


@pytest.fixture
def paper(tables):
    return issued(given_cut_length_draft())


def test_the_entries_stand_with_the_latest_first(as_auditor):
    given_piece()
    text = as_auditor.get(reverse("certs:journal")).text
    latest = JournalEntry.objects.order_by("-number").first()
    assert reverse("certs:journal_entry", args=[latest.number]) in text
    assert "No checkpoint has been signed yet" in text


def test_an_empty_journal_teaches_what_belongs_in_it(as_auditor):
    take_down(connection, GUARDS)
    JournalEntry.objects.all().delete()
    assert 'class="empty"' in as_auditor.get(reverse("certs:journal")).text


def test_the_last_checkpoint_stands_above_them(as_auditor, paper):
    text = as_auditor.get(reverse("certs:journal")).text
    standing = standing_checkpoint()
    assert standing.root in text
    assert short_root(bytes.fromhex(standing.root)) in text
    assert "for evaluation" in text


@pytest.mark.parametrize(
    ("asked", "count"),
    [
        ({"subject": "P-00001"}, 1),
        ({"subject": " p-00001 "}, 1),
        ({"act": "cut_piece"}, 2),
        ({"subject": "P-00002", "act": "cut_piece"}, 1),
        ({"act": "no_such_act"}, None),
        ({"subject": "Z-9"}, 0),
    ],
)
def test_the_list_is_narrowed(as_auditor, asked, count):
    given_piece(reel=given_piece().reel)
    text = as_auditor.get(reverse("certs:journal"), asked).text
    rows = text.count('data-word="Entry"')
    assert rows == (JournalEntry.objects.count() if count is None else count)


def test_the_list_is_narrowed_to_a_key_by_its_name(as_auditor):
    key = given_keys()[0]
    text = as_auditor.get(reverse("certs:journal"), {"subject": key.name}).text
    assert text.count('data-word="Entry"') == 1


@pytest.mark.parametrize("count", [1, 3])
def test_the_list_costs_a_fixed_number_of_queries(as_auditor, count, django_assert_num_queries):
    for _ in range(count):
        given_piece()
    # Session, reader; checkpoint, size; count of the pages and the rows of this one.
    with django_assert_num_queries(6):
        as_auditor.get(reverse("certs:journal"))


def test_an_entry_shows_the_text_its_hash_is_of(as_auditor, paper):
    entry = JournalEntry.objects.get(act="issue_certificate")
    answer = as_auditor.get(reverse("certs:journal_entry", args=[entry.number]))
    assert entry.leaf_hash in answer.text
    assert paper.pdf_sha256 in answer.text
    assert reverse("certs:entry_proof", args=[entry.number]) in answer.text


def test_an_entry_after_the_last_checkpoint_waits_for_the_next(as_auditor, paper):
    given_piece()
    number = JournalHead.objects.get().size - 1
    assert "not yet" in as_auditor.get(reverse("certs:journal_entry", args=[number])).text
    assert as_auditor.get(reverse("certs:entry_proof", args=[number])).status_code == 404


def test_an_entry_that_is_not_there(as_auditor):
    assert as_auditor.get(reverse("certs:journal_entry", args=[10**9])).status_code == 404


def checked(answer, entry):
    proof = read_proof(answer.content.decode())
    assert proof.extra == entry.canonical.encode()
    return check_proof(proof, entry=proof.extra, keys=log_keys(journal_origin()))


def test_the_proof_of_a_certificate_is_checked_from_the_file_alone(as_auditor, paper):
    answer = as_auditor.get(reverse("certs:certificate_proof", args=[paper.number]))
    entry = JournalEntry.objects.get(act="issue_certificate")
    assert answer["Content-Disposition"].endswith(f"{paper.number}.tlog-proof")
    assert checked(answer, entry).size == entry.number + 1
    assert paper.pdf_sha256 in entry.canonical


def test_every_entry_of_a_checkpoint_is_proved(as_auditor, paper):
    for entry in JournalEntry.objects.all():
        answer = as_auditor.get(reverse("certs:entry_proof", args=[entry.number]))
        assert checked(answer, entry).size == standing_checkpoint().size


def test_a_draft_has_no_proof(as_auditor, tables):
    draft = given_cut_length_draft()
    page = reverse("certs:certificate_proof", args=[draft.draft_code])
    assert as_auditor.get(page).status_code == 404


def test_the_page_of_a_certificate_leads_to_its_proof(as_auditor, paper):
    text = as_auditor.get(reverse("certs:certificate", args=[paper.number])).text
    entry = JournalEntry.objects.get(act="issue_certificate")
    assert reverse("certs:certificate_proof", args=[paper.number]) in text
    assert reverse("certs:journal_entry", args=[entry.number]) in text


def test_a_journal_that_leads_elsewhere_proves_nothing(as_auditor, paper):
    take_down(connection, [guard for guard in GUARDS if "merklenode" in guard.name])
    MerkleNode.objects.filter(level=1, index=0).update(hash="0" * 64)
    MerkleNode.objects.filter(level__gt=1).update(hash="1" * 64)
    answer = as_auditor.get(reverse("certs:certificate_proof", args=[paper.number]))
    assert (answer.status_code, "manage.py audit" in answer.text) == (500, True)


def test_the_checkpoint_is_for_anyone(client, paper):
    answer = client.get("/log/checkpoint")
    assert answer["Content-Type"] == "text/plain; charset=utf-8"
    opened = open_checkpoint(answer.content.decode(), keys=log_keys(journal_origin()))
    assert opened.head.size == JournalEntry.objects.count()
    # C2SP tlog-tiles: it lies where the origin says, less the scheme.
    assert opened.head.origin.endswith("/log")


def test_before_the_first_checkpoint_there_is_none(client, db):
    assert client.get("/log/checkpoint").status_code == 404


def test_what_is_not_covered_has_no_proof_file(paper):
    given_piece()
    entry = JournalEntry.objects.order_by("-number").first()
    assert proof_of_entry(entry) is None
