"""The loader, against the files themselves: what is printed there must stand in the tables."""

import csv
import shutil
from pathlib import Path

import pytest
from django.conf import settings

from certs.models import ForceFactor, SteelLimits, TabulatedForce, TerminationEfficiency
from certs.queries.specification_columns import FORCE_FACTORS, TABLE_FILES, TABULATED_FORCES
from certs.services.load_specifications import CannotLoad, load_specifications

FOLDER = settings.ROOT / "fixtures" / "specification"

pytestmark = pytest.mark.django_db


@pytest.fixture
def folder(tmp_path):
    shutil.copytree(FOLDER, tmp_path / "tables")
    return tmp_path / "tables"


def change(folder: Path, file_name: str, old: str, new: str) -> None:
    path = folder / file_name
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")


def file_rows(file_name: str) -> list[dict[str, str]]:
    with (FOLDER / file_name).open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("table", TABLE_FILES, ids=lambda table: table.file_name)
def test_every_row_of_a_file_stands_in_its_table_as_printed(table):
    load_specifications(folder=FOLDER)

    rows = file_rows(table.file_name)
    assert table.model.objects.count() == len(rows)
    for row in rows:
        held = table.as_read(table.model.objects.get(key=table.row_key(row)))
        assert held == {column: row.get(column, "") for column in held}


def test_a_second_run_changes_nothing_and_says_so():
    load_specifications(folder=FOLDER)
    before = list(TabulatedForce.objects.order_by("id").values())

    counts = load_specifications(folder=FOLDER)

    assert not any(count.has_changed for count in counts)
    assert all(count.unchanged == count.in_file for count in counts)
    assert list(TabulatedForce.objects.order_by("id").values()) == before


def test_the_limits_of_a_steel_keep_every_printed_symbol():
    load_specifications(folder=FOLDER)
    limits = SteelLimits.objects.get(steel="1.4401 X5CrNiMo17-12-2").limits
    # EN 10088-3:2014 as in the file: Mo read, the rest from memory.
    assert limits["Mo"] == "2.00-2.50"
    assert limits["Cu"] == "-"


def test_a_row_changed_in_the_file_is_changed_in_the_table(folder):
    load_specifications(folder=folder)
    change(
        folder, "terminations.csv", "hand splice,EN 13411-2,0.80,", "hand splice,EN 13411-2,0.8,"
    )

    counts = {count.file_name: count for count in load_specifications(folder=folder)}

    assert (counts["terminations.csv"].changed, counts["terminations.csv"].added) == (1, 0)
    assert TerminationEfficiency.objects.get(termination="hand splice").efficiency == "0.8"


def test_a_row_gone_from_the_file_is_kept_and_named(folder):
    load_specifications(folder=folder)
    path = folder / "breaking_force_factors.csv"
    *lines, last = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join(lines), encoding="utf-8")

    counts = {count.file_name: count for count in load_specifications(folder=folder)}

    (gone,) = counts[path.name].not_in_file
    assert gone.startswith(last.split(",", maxsplit=1)[0])
    assert ForceFactor.objects.filter(key=gone).exists()


def test_a_row_given_twice_is_refused_and_nothing_is_loaded(folder):
    path = folder / "sling_leg_factors.csv"
    text = path.read_text(encoding="utf-8").rstrip("\n")
    path.write_text(f"{text}\n{text.splitlines()[-1]}\n", encoding="utf-8")

    with pytest.raises(CannotLoad, match=r"gives this row twice: .*endless_choke"):
        load_specifications(folder=folder)
    assert not ForceFactor.objects.exists()


def test_a_missing_file_is_named(folder):
    (folder / "grade_names.csv").unlink()
    with pytest.raises(CannotLoad, match=r"grade_names\.csv is missing"):
        load_specifications(folder=folder)


def test_a_missing_column_is_named(folder):
    change(folder, "sling_leg_factors.csv", ",convention,", ",angle,")
    with pytest.raises(CannotLoad, match="lacks the column convention"):
        load_specifications(folder=folder)


def test_a_cell_that_does_not_fit_is_named(folder):
    change(folder, "iso7500_classes.csv", "0.5,0.5,0.5,", "0.5,0.5000000000000,0.5,")
    with pytest.raises(CannotLoad, match=r"iso7500_classes\.csv, row 0\.5: .*12 characters"):
        load_specifications(folder=folder)
    assert not TabulatedForce.objects.exists()


def test_keys_are_of_the_files_own_words():
    load_specifications(folder=FOLDER)
    row = file_rows(TABULATED_FORCES.file_name)[0]
    assert TABULATED_FORCES.row_key(row) == (
        "API Spec 9A | 26th ed 2011 | C.1 | 6x7 | FC | 1770 | not stated | 6 | mm"
    )
    assert ForceFactor.objects.filter(
        key__in=[FORCE_FACTORS.row_key(r) for r in file_rows(FORCE_FACTORS.file_name)]
    ).count() == len(file_rows(FORCE_FACTORS.file_name))
