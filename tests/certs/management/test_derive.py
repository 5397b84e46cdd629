"""The command for scripts: figures as JSON numbers, refusals on standard error with exit 1."""

import json
import os
import subprocess
import sys
from decimal import Decimal
from io import StringIO

import pytest
from django.conf import settings
from django.core.management import call_command

pytestmark = pytest.mark.django_db


def run(*arguments: str) -> str:
    out = StringIO()
    call_command("derive", *arguments, stdout=out)
    return out.getvalue()


def refused(*arguments: str) -> str:
    err = StringIO()
    with pytest.raises(SystemExit) as left:
        call_command("derive", *arguments, stdout=StringIO(), stderr=err)
    assert left.value.code == 1
    return err.getvalue()


def test_json_holds_the_figures_of_the_published_row_as_numbers(tables):
    answer = json.loads(run("12 6x7-FC 1770 U sZ", "--json"), parse_float=Decimal)
    # API Spec 9A, 26th ed 2011, Table C.1: 84.6 kN, 49.7 kg/100m, 12.0 to 12.6 mm.
    assert answer["breaking_force_kN"] == Decimal("84.6")
    assert answer["mass_kg_per_100m"] == Decimal("49.7")
    assert (answer["diameter_min_mm"], answer["diameter_max_mm"]) == (12, Decimal("12.6"))
    # 0.332 x 12 x 12 x 1770 / 1000, by hand.
    assert answer["unrounded_kN"] == Decimal("84.62016")
    assert "0.332" in answer["basis"]
    assert "Feyrer" in answer["source"]
    assert answer["derivation"]["force"]["stated"] == "84.6"


def test_json_numbers_are_written_with_the_digits_stated(tables):
    # Table C.1 prints 115 kN at 14 mm, not 115.0.
    assert '"breaking_force_kN": 115,' in run("14 6x7-FC 1770 U sZ", "--json")


def test_a_table_value_is_given_as_printed_and_in_kilonewtons(tables):
    answer = json.loads(
        run("1/2 in 6x7-FC IPS U sZ", "--table", "API Spec 9A", "--json"), parse_float=Decimal
    )
    # Table C.1 prints 10.3 short tons at 1/2 in; 2000 lbf of 4.4482216152605 N each.
    assert answer["breaking_force_as_printed"] == Decimal("10.3")
    assert answer["breaking_force_unit"] == "short ton"
    assert answer["breaking_force_kN"] == Decimal("91.633")


def test_what_was_assumed_is_told(tables):
    assert json.loads(run("12 7x7 1770", "--json"))["assumed"] == ["core", "finish", "lay"]


def test_a_gap_is_null_with_its_reason(tables):
    answer = json.loads(run("1.5 7x7 1570", "--json"))
    assert answer["diameter_min_mm"] is None
    assert "agree the value with the maker" in answer["gaps"][0]["reason"]


def test_the_text_goes_step_by_step_and_ends_with_the_caution(tables):
    text = run("12 6x7-FC 1770 U sZ")
    assert "Fmin = 0.332 × 12² × 1770 / 1000 = 84.62016 kN → 84.6 kN" in text
    assert "A breaking force is not a working load." in text.splitlines()[-1]


def test_an_unknown_combination_leaves_with_one_and_what_is_known_nearby(tables):
    error = json.loads(refused("12 6xK36WS-IWRC 1960 U sZ", "--json"))
    assert "compacted strands" in error["known_nearby"][0]
    assert "Known nearby:" in refused("12 6xK36WS-IWRC 1960 U sZ")


def test_without_tables_it_leaves_with_one_and_says_how_to_load_them():
    assert "manage.py load_specifications" in refused("12 6x7-FC 1770 U sZ")


def test_the_text_tells_what_was_assumed_and_what_is_missing(tables):
    text = run("1.5 1x19 1570")
    assert "Assumed, not stated: finish, lay" in text
    assert "No value for length mass: No mass factor W is held for class 1x19" in text
    assert "No value for diameter: No published limit below 2 mm" in text


def test_the_text_tells_of_rows_that_gave_way(tables):
    text = run("3/8 in 6x19M-WSC 1770 U sZ", "--table", "MIL-W-83420")
    assert "Also held, not used as not lower:" in text


def test_on_an_empty_database_the_program_leaves_with_one_and_says_what_to_do(tmp_path):
    done = subprocess.run(
        [sys.executable, "manage.py", "derive", "12 6x7-FC 1770 U sZ", "--json"],
        cwd=settings.ROOT,
        env=os.environ | {"DATABASE_URL": f"sqlite:///{tmp_path / 'empty.sqlite3'}"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (1, "")
    assert "manage.py migrate" in json.loads(done.stderr)["error"]
