"""Derivation from the loaded tables against API Spec 9A, 26th ed 2011, Table C.1, row by row."""

import csv
from decimal import Decimal

import pytest

from certs.queries.derivation import TablesNotLoaded, UnknownCombination, derive
from certs.rules.derived import plain
from inventory.rules.designation import DesignationError
from tests.certs.claims import FOLDER

pytestmark = pytest.mark.django_db


def printed_rows(*units: str) -> list[dict[str, str]]:
    with (FOLDER / "breaking_force_tables.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["standard"] == "API Spec 9A"]
    return [row for row in rows if row["diameter_unit"] in units]


def written(row: dict[str, str]) -> str:
    size = row["nominal_diameter"] + (" in" if row["diameter_unit"] == "in" else "")
    return f"{size} {row['construction']}-{row['core']} {row['grade']} U sZ"


def test_the_factor_gives_every_metric_force_and_mass_that_the_table_prints(tables):
    rows = printed_rows("mm")
    assert len(rows) == 22
    for row in rows:
        found = derive(written(row))
        assert (plain(found.force.stated), found.force.unit) == (row["mbf"], "kN"), row
        assert plain(found.mass.stated) == row["mass"], row


def test_the_table_gives_every_row_back_as_printed_metric_and_inch(tables):
    rows = printed_rows("mm", "in")
    assert len(rows) == 49
    for row in rows:
        found = derive(written(row), "api spec 9a")
        assert (plain(found.force.stated), found.force.unit) == (row["mbf"], row["mbf_unit"]), row


@pytest.mark.parametrize(
    ("designation", "least", "most"),
    [
        # API Spec 9A Table C.1, diameter columns.
        ("6 6x7-FC 1770 U sZ", "6.00", "6.36"),
        ("12 6x7-FC 1770 U sZ", "12.0", "12.6"),
    ],
)
@pytest.mark.parametrize("table", [None, "API Spec 9A"], ids=["by rule", "as printed"])
def test_the_diameter_limits_are_those_of_the_table(tables, designation, table, least, most):
    limits = derive(designation, table).diameter
    assert (limits.min_mm, limits.max_mm) == (Decimal(least), Decimal(most))


def test_below_two_millimetres_the_diameter_is_a_gap(tables):
    found = derive("1.5 6x7-WSC 1570 U sZ")
    assert [gap.quantity for gap in found.gaps] == ["diameter"]


def test_a_spiral_strand_has_no_mass_and_says_where_to_get_it(tables):
    (mass,) = derive("4 1x19 1570").gaps
    assert "weigh a length" in mass.reason


def test_seven_by_seven_at_two_millimetres_has_the_strength_of_its_own_factor(tables):
    # K 0.388 of the strand core (Feyrer, Wire Ropes, Table 1.9); 0.359 would give 2.54.
    assert derive("2 7x7 1770").force.text == "2.75 kN"


def test_an_unknown_combination_names_what_is_held_nearby(tables):
    with pytest.raises(UnknownCombination) as refused:
        derive("12 6x7-EPIWRC 1770 U sZ")
    assert "factor held: 6x7-IWRC, K = 0.359" in refused.value.known_nearby


def test_a_us_grade_is_never_made_a_number(tables):
    with pytest.raises(UnknownCombination, match="is a name") as refused:
        derive("1/2 in 6x7-FC IPS U sZ")
    assert any("IPS, 1/4 to 1-1/2 in" in line for line in refused.value.known_nearby)


def test_a_table_that_is_not_held_is_answered_with_those_that_are(tables):
    with pytest.raises(UnknownCombination, match="Held are: API Spec 9A, MIL-W-83420"):
        derive("12 6x7-FC 1770 U sZ", "Price list 7")


def test_a_size_that_the_table_has_not_is_answered_with_its_sizes(tables):
    with pytest.raises(UnknownCombination, match="holds no row") as refused:
        derive("11 6x7-FC 1770 U sZ", "API Spec 9A")
    assert any("grade 1770, 6 to 38 mm" in line for line in refused.value.known_nearby)


def test_of_several_rows_the_lowest_is_taken_and_the_others_are_told(tables):
    # MIL-W-83420 as quoted in AC 43.13-1B: no grade on the rope's side to choose a column by.
    found = derive("3/8 in 6x19M-WSC 1770 U sZ", "MIL-W-83420")
    assert found.others
    stated = [Decimal(other.split()[0]) for other in found.others]
    assert found.force.stated <= min(stated)


def test_without_tables_it_says_how_to_load_them():
    with pytest.raises(TablesNotLoaded, match=r"manage\.py load_specifications"):
        derive("12 6x7-FC 1770 U sZ")


def test_a_designation_that_is_none_is_refused_as_such(tables):
    with pytest.raises(DesignationError):
        derive("a piece of rope")


def test_a_table_that_prints_no_diameters_leaves_a_gap(tables):
    # US SPR 198-50 as reprinted: forces and masses alone.
    (gap,) = derive("1/2 in 6x7-FC IPS U sZ", "US SPR 198-50").gaps
    assert "prints no diameter limits" in gap.reason
