"""What the API and `manage.py export_log` really hand out, judged by the verifier alone."""

import io
import json
from base64 import b64encode

import pytest
from django.core.management import call_command
from django.db import transaction
from rest_framework.test import APIClient

from certs.documents.verifier.answers import FAILS, HOLDS, UNSAID, NotReadableError
from certs.documents.verifier.command import verify_files
from certs.documents.verifier.journal_answers import (
    read_answered_entry,
    read_answered_head,
    read_growth,
    read_inclusion,
)
from inventory.models import Checkpoint, JournalEntry, JournalHead
from inventory.queries.kept_files import read_file
from inventory.rules.roles import Role
from inventory.services import journal
from inventory.services.checkpoint import make_checkpoint
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT, given_keys, given_person, given_piece

pytestmark = pytest.mark.django_db


def asked(path):
    client = APIClient()
    client.force_authenticate(given_person(Role.QA_OFFICER))
    answer = client.get(path)
    assert answer.status_code == 200
    return answer.content


@pytest.fixture
def sizes():
    """A journal of which two checkpoints are signed, and the public keys over the web."""
    given_keys()
    given_piece()
    old = make_checkpoint(at=MOMENT).size
    given_piece()
    return old, make_checkpoint(at=MOMENT).size


@pytest.fixture
def answers(sizes):
    """What somebody who checks the journal over the API has on his disk."""
    old, new = sizes
    return {
        "checkpoint.json": asked("/api/journal/checkpoint/"),
        "inclusion.json": asked("/api/journal/5/inclusion/"),
        "entry.json": asked("/api/journal/5/"),
        "jwks.json": asked("/.well-known/jwks.json"),
        # The checkpoint of former days, as it was kept elsewhere.
        "kept.txt": journal_checkpoint(old),
        "consistency.json": asked(f"/api/journal/consistency/?from={old}&to={new}"),
    }


def journal_checkpoint(size):
    return Checkpoint.objects.get(size=size).note.encode()


def verified(folder, files):
    for name, data in files.items():
        (folder / name).write_bytes(data)
    return {(c.subject, c.name): (c.verdict, c.meaning) for c in verify_files([str(folder)])}


def verdicts(found):
    return {subject: verdict for (subject, _), (verdict, _) in found.items()}


def test_the_answers_of_the_api_hold_together(tmp_path, answers, sizes):
    found = verified(tmp_path, answers)
    assert set(verdicts(found)) == {
        "checkpoint.json", "kept.txt", "inclusion.json", "consistency.json",
        "kept.txt, checkpoint.json",
    }  # fmt: skip
    assert set(verdicts(found).values()) == {HOLDS}
    assert "Entry 5 about" in found["inclusion.json", "entry in the journal"][1]
    assert f"The first {sizes[0]} of {sizes[1]} entries are the same." in {
        meaning for _, meaning in found.values()
    }


@pytest.mark.parametrize(
    ("left_out", "subject", "words"),
    [
        ("checkpoint.json", "inclusion.json", "No checkpoint of"),
        ("kept.txt", "consistency.json", "nobody vouches for that root"),
        ("inclusion.json", "entry.json", "No proof was handed in"),
        ("jwks.json", "checkpoint.json", "No key of the journal"),
        ("consistency.json", "kept.txt, checkpoint.json", "No proof was handed in"),
    ],
)
def test_an_answer_that_nothing_vouches_for_is_not_called_good(
    tmp_path, answers, left_out, subject, words
):
    found = verified(tmp_path, {n: data for n, data in answers.items() if n != left_out})
    ((verdict, meaning),) = [told for (one, _), told in found.items() if one == subject]
    assert verdict == UNSAID
    assert words in meaning


def test_without_its_text_an_entry_is_told_by_its_hash(tmp_path, answers):
    del answers["entry.json"]
    verdict, meaning = verified(tmp_path, answers)["inclusion.json", "entry in the journal"]
    leaf = JournalEntry.objects.get(number=5).leaf_hash
    assert (verdict, leaf in meaning) == (HOLDS, True)


def edited(data, **changes):
    return json.dumps(json.loads(data) | changes).encode()


@pytest.mark.parametrize(
    ("name", "changes"),
    [
        ("inclusion.json", {"number": 4}),
        ("inclusion.json", {"leaf_hash": "00" * 32}),
        ("inclusion.json", {"root": "00" * 32}),
        ("inclusion.json", {"path": []}),
        ("consistency.json", {"old_root": "00" * 32}),
        ("consistency.json", {"new_root": "00" * 32}),
        ("consistency.json", {"path": []}),
        ("consistency.json", {"path": ["words"]}),
        ("consistency.json", {"path": [b64encode(b"short").decode()]}),
        ("checkpoint.json", {"root": "00" * 32}),
        ("checkpoint.json", {"size": 2}),
        ("checkpoint.json", {"note": "words"}),
        ("entry.json", {"subject": "R-99999"}),
        ("entry.json", {"canonical": "{}"}),
    ],
)
def test_a_changed_answer_is_found_out_under_its_name(tmp_path, answers, name, changes):
    found = verified(tmp_path, answers | {name: edited(answers[name], **changes)})
    assert verdicts(found)[name] == FAILS


def test_a_root_that_was_not_signed_is_found_out(tmp_path, answers, sizes):
    """The proof is whole, and the checkpoint that the asker kept has another root."""
    other = answers["consistency.json"].replace(
        json.loads(answers["consistency.json"])["old_root"].encode(), b"00" * 32
    )
    assert verdicts(verified(tmp_path, answers | {"consistency.json": other}))[
        "consistency.json"
    ] == FAILS  # fmt: skip


@pytest.mark.parametrize(
    ("read", "document"),
    [
        (read_inclusion, {"number": -1, "size": 1, "leaf_hash": "", "path": [], "root": ""}),
        (read_inclusion, {"number": 0, "size": "1", "leaf_hash": "", "path": [], "root": ""}),
        (read_growth, {"from": 1, "to": True, "path": []}),
        (read_growth, {"from": 1, "to": 2, "path": {}}),
        (read_answered_head, {"note": "", "origin": "", "size": 0, "root": ""}),
        (read_answered_entry, {"canonical": "\ud800", "leaf_hash": ""}),
    ],
)
def test_what_is_no_answer_of_a_journal_is_refused(read, document):
    with pytest.raises(NotReadableError):
        read(document)


@pytest.fixture(params=[40, 256, 300])
def export(request, tmp_path, tables):
    """A paper and the whole journal that names it, exported twice as it grew."""
    paper = issued(given_cut_length_draft())
    folder = tmp_path / "export"
    make_checkpoint(at=MOMENT)
    call_command("export_log", str(folder), stdout=io.StringIO())
    with transaction.atomic():
        for _ in range(request.param - JournalHead.objects.get().size):
            journal.append(at=MOMENT, by=paper.issued_by, act="a", subject="s", detail={})
    make_checkpoint(at=MOMENT)
    call_command("export_log", str(folder), stdout=io.StringIO())
    (folder / "jwks.json").write_bytes(asked("/.well-known/jwks.json"))
    (folder / "paper.pdf").write_bytes(read_file(paper.pdf))
    return folder


def judged(folder):
    return {(c.subject, c.name): c.verdict for c in verify_files([str(folder)])}


def test_an_exported_journal_is_hashed_anew_and_names_papers(export):
    found = judged(export)
    assert found.pop(("paper.pdf", "who vouches for the keys")) == UNSAID
    assert found.pop(("checkpoint", "whole journal")) == HOLDS
    assert found["paper.pdf", "file as issued"] == HOLDS
    assert found["paper.pdf, enclosed data", "data as issued"] == HOLDS
    assert set(found.values()) == {HOLDS}


def test_each_byte_of_an_exported_journal_counts(export):
    """A byte in the first, the middle and the last of every file of the log."""
    (export / "paper.pdf").unlink()
    for path in [export / "checkpoint", *(p for p in export.rglob("tile/**/*") if p.is_file())]:
        data = path.read_bytes()
        for at in {0, len(data) // 2, len(data) - 1}:
            path.write_bytes(data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :])
            assert FAILS in judged(export).values(), (path, at)
        path.write_bytes(data)
    assert FAILS not in judged(export).values()


def test_a_lost_tile_and_a_lost_checkpoint_are_told(export):
    (export / "paper.pdf").unlink()
    for path in (export / "checkpoint", *export.rglob("tile/**/000*")):
        if path.is_file():
            kept = path.read_bytes()
            path.unlink()
            assert FAILS in judged(export).values(), path
            path.write_bytes(kept)
