import json
import os

import pytest
from django.core.management import CommandError, call_command

from inventory.services.files import keep_file, write_file
from tests.factories import MOMENT, pdf_bytes

pytestmark = pytest.mark.django_db


@pytest.fixture
def orphan(file_store):
    keep_file(content=pdf_bytes(), name="a.pdf", at=MOMENT)
    file = file_store / write_file(content=pdf_bytes("orphan"), name="o.pdf").path
    os.utime(file, (0, 0))
    return file


def test_it_tells_and_takes_nothing_away(orphan, capsys):
    call_command("sweep_files")
    told = capsys.readouterr().out.splitlines()
    assert orphan.name in told[0]
    assert told[1] == "1 file that no row names"
    assert orphan.exists()


def test_told_to_it_takes_away_the_old_ones(file_store, orphan, capsys):
    young = file_store / write_file(content=pdf_bytes("young"), name="y.pdf").path
    call_command("sweep_files", "--remove", "--json")
    (told,) = json.loads(capsys.readouterr().out)
    assert orphan.name in told["path"]
    assert told["laid_down_at"] == "1970-01-01T00:00:00+00:00"
    assert not orphan.exists()
    assert young.exists()


@pytest.mark.parametrize("minutes", ["-1", "1.5", "old"])
def test_an_age_below_nothing_takes_no_file_of_an_act_that_still_goes_on(orphan, minutes):
    with pytest.raises(CommandError, match="older-than"):
        call_command("sweep_files", "--remove", f"--older-than={minutes}")
    assert orphan.exists()


def test_where_nothing_is_loose_it_says_so(file_store, capsys):
    call_command("sweep_files", "--remove")
    assert capsys.readouterr().out == "0 files taken away\n"


def test_a_storage_that_does_not_let_go_is_told_in_one_line(orphan, monkeypatch, capsys):
    def fails(*_args):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("pathlib.Path.replace", fails)
    with pytest.raises(SystemExit) as ended:
        call_command("sweep_files", "--remove")
    assert ended.value.code == 1
    assert "cannot be written" in capsys.readouterr().err
