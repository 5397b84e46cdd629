"""The command prints what it did, and that a second run did nothing."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from certs.models import ForceFactor
from tests.certs.claims import FOLDER, given_basis, given_factor
from tests.factories import given_reel

pytestmark = pytest.mark.django_db


def run(**options) -> str:
    out = StringIO()
    call_command("load_specifications", stdout=out, **options)
    return out.getvalue()


def copied(tmp_path):
    for path in FOLDER.glob("*.csv"):
        (tmp_path / path.name).write_bytes(path.read_bytes())
    return tmp_path


def test_it_counts_the_rows_of_every_file():
    rows = len((FOLDER / "wire_tensile_band.csv").read_text(encoding="utf-8").splitlines()) - 1
    assert f"wire_tensile_band.csv: {rows} rows, {rows} added, 0 changed, 0 unchanged" in run()


def test_a_second_run_says_that_nothing_changed():
    run()
    assert run().splitlines()[-1] == "Nothing changed: the tables are loaded already."


def test_a_row_that_a_reel_rests_on_is_left_as_it_is(tmp_path):
    folder = copied(tmp_path)
    run(folder=folder)
    given_basis(given_reel(), given_factor("6x7", "WSC"))
    path = folder / "breaking_force_factors.csv"
    path.write_text(
        path.read_text(encoding="utf-8").replace("6x7,WSC,0.388", "6x7,WSC,0.359"),
        encoding="utf-8",
    )

    printed = run(folder=folder)

    assert "left as it is, a reel's strength rests on it: 6x7 | WSC" in printed
    assert ForceFactor.objects.get(rope_class="6x7", rope_core="WSC").factor_k == "0.388"


def test_a_folder_without_files_is_refused_in_one_line(tmp_path):
    with pytest.raises(CommandError, match=r"breaking_force_factors\.csv is missing"):
        run(folder=tmp_path)


def test_a_row_that_is_no_longer_in_its_file_is_kept_and_named(tmp_path):
    folder = copied(tmp_path)
    run(folder=folder)
    path = folder / "wire_tensile_band.csv"
    lines = path.read_text(encoding="utf-8").splitlines()
    path.write_text("\n".join(lines[:-1]), encoding="utf-8")

    assert "kept, no longer in the file: EN 10264-1:2002 Table 1 | stainless" in run(folder=folder)
