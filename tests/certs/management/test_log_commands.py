"""The commands sign the journal and write it out; what cannot be done leaves with 1."""

from io import StringIO

import pytest
from django.core.management import call_command

from inventory.models import Checkpoint
from inventory.queries.checkpoints import log_keys
from inventory.rules.checkpoint import open_checkpoint
from inventory.services.checkpoint import journal_origin
from tests.factories import given_keys, given_piece

pytestmark = pytest.mark.django_db


def run(*arguments):
    out = StringIO()
    call_command(*arguments, stdout=out)
    return out.getvalue()


def refused(*arguments):
    err = StringIO()
    with pytest.raises(SystemExit) as left:
        call_command(*arguments, stdout=StringIO(), stderr=err)
    assert left.value.code == 1
    return err.getvalue()


def test_a_checkpoint_is_printed_as_it_is_signed():
    given_keys()
    note = run("checkpoint")
    assert note == Checkpoint.objects.get().note == run("checkpoint")
    assert open_checkpoint(note, keys=log_keys(journal_origin()))


def test_without_a_key_the_reason_is_told():
    given_piece()
    assert "make_keys" in refused("checkpoint")


def test_the_log_is_written_into_a_folder(tmp_path):
    given_keys()
    run("checkpoint")
    told = run("export_log", str(tmp_path / "log"))
    assert "entries" in told
    assert (tmp_path / "log/checkpoint").read_text() == Checkpoint.objects.get().note


def test_without_a_checkpoint_nothing_is_written(tmp_path):
    given_piece()
    assert "checkpoint" in refused("export_log", str(tmp_path))


def test_a_place_that_cannot_be_written_is_named_with_its_reason(tmp_path):
    given_keys()
    run("checkpoint")
    (tmp_path / "file").write_text("no folder")
    told = refused("export_log", str(tmp_path / "file"))
    assert f"{tmp_path / 'file'}" in told
    assert "Not a directory" in told


def test_a_backup_names_the_folder_that_is_not_there(tmp_path):
    told = refused("backup", str(tmp_path / "nowhere" / "b.zip"))
    assert "nowhere" in told
    assert "No such file or directory" in told
    assert len(told.splitlines()) == 1
