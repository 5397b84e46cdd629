"""`manage.py audit`: what it prints, how it ends, and what it takes from outside."""

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from inventory.models import Checkpoint, Hold
from inventory.queries.checkpoints import log_keys
from inventory.rules.signed_note import NoteKey
from inventory.services.checkpoint import make_checkpoint
from tests.certs.queries.audit.world import open_the_database
from tests.factories import MOMENT, given_hold, given_keys, given_reel

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("file_store")]


@pytest.fixture(autouse=True)
def hold(settings):
    settings.PUBLIC_ORIGIN = "https://records.example"
    given_keys()
    found = given_hold(given_reel())
    make_checkpoint(at=MOMENT)
    return found


def audit(*arguments):
    """What it printed and how it came along; how many disagree, if any do."""
    out, err = StringIO(), StringIO()
    try:
        call_command("audit", *arguments, stdout=out, stderr=err)
    except CommandError as error:
        return out.getvalue(), err.getvalue(), error
    return out.getvalue(), err.getvalue(), None


def test_a_record_that_agrees_is_said_to():
    out, err, error = audit()
    assert error is None
    assert out.startswith("Everything agrees: ")
    assert "journal entries" in err
    assert "audited in" in err


def test_what_disagrees_is_listed_and_ends_it_with_one(hold):
    open_the_database()
    Hold.objects.update(reason="nothing much")
    out, _, error = audit()
    assert error.returncode == 1
    assert "disagree" in str(error)
    assert f"row changed: inventory.Hold:{hold.pk} ({hold.code})\n  expected " in out
    assert "  The row was changed past the program.\n" in out
    assert "guard down: guard hold_is_released_once" in out


def test_a_script_gets_one_json_document(hold):
    assert json.loads(audit("--json")[0])["agrees"] is True
    open_the_database()
    Hold.objects.update(reason="nothing much")
    out, _, error = audit("--json")
    told = json.loads(out)
    assert (told["agrees"], error.returncode) == (False, 1)
    [row] = [one for one in told["disagreements"] if one["what"] == "row changed"]
    assert row["where"] == f"inventory.Hold:{hold.pk} ({hold.code})"
    assert set(row) == {"what", "where", "expected", "found", "meaning"}


def test_a_checkpoint_kept_elsewhere_is_held_against_the_journal(tmp_path):
    kept = tmp_path / "kept.txt"
    kept.write_text(Checkpoint.objects.get().note)
    [key] = log_keys("records.example/log")
    assert audit("--checkpoint", str(kept))[2] is None
    assert audit("--checkpoint", str(kept), "--key", str(key))[2] is None
    open_the_database()
    Checkpoint.objects.all().delete()
    kept.write_text(kept.read_text().replace("records", "others"))
    out, _, error = audit("--checkpoint", str(kept), "--key", str(key))
    assert f"checkpoint wrong: checkpoint {kept}" in out
    assert error.returncode == 1


def test_the_key_on_record_is_not_believed_where_another_is_given(tmp_path):
    kept = tmp_path / "kept.txt"
    kept.write_text(Checkpoint.objects.get().note)
    other = NoteKey("records.example/log", bytes(32))
    out, _, error = audit("--checkpoint", str(kept), "--key", str(other))
    assert "checkpoint wrong" in out
    assert error.returncode == 1


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        pytest.param(["--checkpoint", "nowhere.txt"], "cannot be read", id="no file"),
        pytest.param(["--key", "nonsense"], "no key of a signed note", id="no key"),
    ],
)
def test_what_cannot_be_read_is_no_finding(arguments, words):
    _, _, error = audit(*arguments)
    assert words in str(error)
    assert error.returncode == 2
