import pytest

from certs.rules.derived import Gap, plain
from certs.rules.length_mass import length_mass, length_mass_from_table
from certs.rules.rope_match import NoBasis
from tests.certs.rules.tables import API_METRIC, TABLE_ROWS, factor, rope, rope_of, spoken


# API Spec 9A 26th edition (2011), Table C.1: every metric row, to the printed figure.
@pytest.mark.parametrize("row", API_METRIC, ids=spoken)
def test_factor_gives_the_mass_printed_in_api_9a(row):
    mass = length_mass(rope_of(row), factor("6x7", "FC"))
    assert (plain(mass.stated), mass.unit) == (row.mass, row.mass_unit)


@pytest.mark.parametrize("row", API_METRIC, ids=spoken)
def test_printed_mass_comes_back_as_printed(row):
    mass = length_mass_from_table(rope_of(row), row)
    assert (plain(mass.stated), mass.unit) == (row.mass, "kg/100m")


def test_mass_is_worked_in_the_open():
    steps = length_mass(rope(), factor("6x7", "FC")).steps()
    assert "M = 0.345 × 12² = 49.68 kg/100m → 49.7 kg/100m" in steps[-2]


def test_missing_mass_factor_is_refused_and_not_invented():
    with pytest.raises(NoBasis, match="No mass factor W") as refusal:
        length_mass(rope(make="1x19"), factor("1x19", "-"))
    assert refusal.value.field == "mass"


def test_table_without_mass_leaves_a_gap():
    row = next(row for row in TABLE_ROWS if row.standard == "MIL-W-83420")
    gap = length_mass_from_table(rope("1/32", "3x7", unit="in"), row)
    assert isinstance(gap, Gap)
    assert "prints no mass" in gap.reason
