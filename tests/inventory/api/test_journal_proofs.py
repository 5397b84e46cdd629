"""Proofs over the API, checked with the rules from the answers alone."""

import pytest
from rest_framework.test import APIClient

from inventory.models import JournalEntry
from inventory.queries.checkpoints import log_keys
from inventory.rules.checkpoint import open_checkpoint
from inventory.rules.merkle import leaf_hash, verify_consistency, verify_inclusion
from inventory.services.checkpoint import journal_origin, make_checkpoint
from tests.factories import MOMENT, given_keys, given_piece

pytestmark = pytest.mark.django_db


@pytest.fixture
def size():
    given_keys()
    given_piece()
    return make_checkpoint(at=MOMENT).size


def unhexed(texts):
    return [bytes.fromhex(text) for text in texts]


def test_the_last_checkpoint(qa, size):
    answer = qa.get("/api/journal/checkpoint/").json()
    opened = open_checkpoint(answer["note"], keys=log_keys(journal_origin()))
    assert (opened.head.origin, opened.head.size) == (answer["origin"], answer["size"])
    assert opened.head.root.hex() == answer["root"]
    assert (answer["size"], answer["is_evaluation"]) == (size, True)


@pytest.mark.parametrize("asked", ["", "?size=7"])
def test_an_entry_is_proved_under_the_root_of_a_size(qa, size, asked):
    answer = qa.get(f"/api/journal/5/inclusion/{asked}").json()
    text = qa.get("/api/journal/5/").json()["canonical"]
    assert answer["size"] == (7 if asked else size)
    assert verify_inclusion(
        index=5,
        size=answer["size"],
        leaf=leaf_hash(text.encode()),
        path=unhexed(answer["path"]),
        root_hash=bytes.fromhex(answer["root"]),
    )
    assert answer["leaf_hash"] == leaf_hash(text.encode()).hex()


@pytest.mark.parametrize("asked", ["from=3", "from=3&to=8"])
def test_a_past_is_proved(qa, size, asked):
    answer = qa.get(f"/api/journal/consistency/?{asked}").json()
    assert (answer["old_size"], answer["new_size"]) == (3, 8 if "to" in asked else size)
    assert verify_consistency(
        old_size=3,
        new_size=answer["new_size"],
        old_root=bytes.fromhex(answer["old_root"]),
        new_root=bytes.fromhex(answer["new_root"]),
        path=unhexed(answer["path"]),
    )


def test_the_root_that_is_proved_is_the_one_that_was_signed(qa, size):
    signed = qa.get("/api/journal/checkpoint/").json()["root"]
    assert qa.get("/api/journal/0/inclusion/").json()["root"] == signed
    assert qa.get("/api/journal/consistency/?from=1").json()["new_root"] == signed


@pytest.mark.parametrize(
    ("path", "field"),
    [
        ("0/inclusion/?size=1000000", "size"),
        ("9/inclusion/?size=5", "size"),
        ("consistency/?from=9&to=5", "from"),
        ("consistency/?from=1&to=1000000", "to"),
    ],
)
def test_what_the_journal_never_was_is_refused(qa, size, path, field):
    answer = qa.get(f"/api/journal/{path}")
    assert (answer.status_code, answer.json()["field"]) == (400, field)


@pytest.mark.parametrize("path", ["0/inclusion/?size=0", "consistency/", "consistency/?from=x"])
def test_what_cannot_be_read_is_refused(qa, size, path):
    assert qa.get(f"/api/journal/{path}").status_code == 400


@pytest.mark.parametrize("path", ["checkpoint/", "0/inclusion/", "consistency/?from=1"])
def test_before_the_first_checkpoint_there_is_none(qa, path):
    given_piece()
    assert qa.get(f"/api/journal/{path}").status_code == 404


@pytest.mark.parametrize("path", ["checkpoint/", "0/inclusion/", "consistency/?from=1"])
def test_nobody_unknown_reads_a_proof(db, path):
    assert APIClient().get(f"/api/journal/{path}").status_code in {401, 403}


def test_an_entry_is_still_found_by_its_number(qa, size):
    assert qa.get("/api/journal/0/").json()["number"] == 0
    assert qa.get("/api/journal/").json()["count"] == JournalEntry.objects.count()
