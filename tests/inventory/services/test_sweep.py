import os
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from inventory.models import StoredFile
from inventory.queries.kept_files import read_file
from inventory.services.files import keep_file, write_file
from inventory.services.sweep import sweep_files
from tests.factories import MOMENT, pdf_bytes

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("file_store")]

NOW = datetime.now(tz=UTC)  # noqa: TID251 -- the file system dates files by the real clock


@pytest.fixture
def orphan(file_store):
    """What is left of an act that was killed between its file and its row, two hours ago."""
    return aged(file_store / write_file(content=pdf_bytes("orphan"), name="o.pdf").path)


def aged(file, *, hours=2):
    then = (NOW - timedelta(hours=hours)).timestamp()
    os.utime(file, (then, then))
    return file


def files_in(folder):
    return {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}


def swept():
    return [file.path for file in sweep_files(at=NOW)]


def test_an_old_file_without_a_row_goes_and_one_with_a_row_stays(file_store, orphan):
    kept = keep_file(content=pdf_bytes(), name="a.pdf", at=MOMENT)
    aged(file_store / kept.path)
    assert swept() == [orphan.relative_to(file_store).as_posix()]
    assert files_in(file_store) == {kept.path}


def test_a_young_file_without_a_row_stays_for_its_act_may_be_under_way(file_store):
    path = write_file(content=pdf_bytes(), name="a.pdf").path
    assert swept() == []
    assert files_in(file_store) == {path}


def test_half_a_file_goes_too(file_store, orphan):
    part = orphan.with_name(orphan.name + ".0123456789abcdef.part")
    orphan.rename(part)
    assert swept() == [part.relative_to(file_store).as_posix()]
    assert files_in(file_store) == set()


def test_an_orphan_that_is_handed_in_again_is_young_and_gets_its_row(file_store, orphan):
    kept = keep_file(content=pdf_bytes("orphan"), name="o.pdf", at=MOMENT)
    assert swept() == []
    assert read_file(kept) == pdf_bytes("orphan")
    assert file_store / kept.path == orphan


@pytest.mark.parametrize("comes", ["its bytes", "its row"])
def test_whoever_hands_it_in_while_it_is_being_taken_keeps_it(orphan, monkeypatch, comes):
    replace = Path.replace

    def slow_replace(file, target):
        if file == orphan:
            if comes == "its bytes":
                write_file(content=pdf_bytes("orphan"), name="o.pdf")
            else:
                keep_file(content=pdf_bytes("orphan"), name="o.pdf", at=MOMENT)
                aged(orphan)
        return replace(file, target)

    monkeypatch.setattr(Path, "replace", slow_replace)
    assert swept() == []
    assert orphan.read_bytes() == pdf_bytes("orphan")


@pytest.mark.parametrize("is_named", [True, False], ids=["named since", "named by nobody"])
def test_what_a_killed_sweep_moved_aside_goes_back_or_goes(file_store, orphan, is_named):
    if is_named:
        keep_file(content=pdf_bytes("orphan"), name="o.pdf", at=MOMENT)
    aside = aged(orphan.rename(orphan.with_name(orphan.name + ".swept.part")))
    assert swept() == ([] if is_named else [aside.relative_to(file_store).as_posix()])
    assert orphan.exists() is is_named
    assert StoredFile.objects.count() == is_named
    assert not aside.exists()


def test_one_that_is_gone_meanwhile_is_nobodys_business(orphan, monkeypatch):
    replace = Path.replace

    def late_replace(file, target):
        orphan.unlink()
        return replace(file, target)

    monkeypatch.setattr(Path, "replace", late_replace)
    assert swept() == []
