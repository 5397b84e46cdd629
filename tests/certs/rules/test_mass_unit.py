"""Masses in one unit, against the exact definitions of pound and foot (NIST SP 811, B.8)."""

from decimal import Decimal

import pytest

from certs.rules.derived import Derived, Source
from certs.rules.mass_unit import KG_PER_100M_IN, declared_mass, in_kg_per_100m


def printed(figure: str, unit: str) -> Derived:
    return Derived(
        quantity="length mass",
        symbol="M",
        formula="M = Mtab",
        inputs=(),
        source=Source("a table"),
        unrounded=Decimal(figure),
        stated=Decimal(figure),
        unit=unit,
        rounding="none: the printed figure",
        basis="table row",
    )


@pytest.mark.parametrize(
    ("figure", "unit", "expected"),
    [
        pytest.param("49.7", "kg/100m", "49.7", id="as it is"),
        pytest.param("497.5", "kg/km", "49.75", id="a decimal place"),
        pytest.param("0.497", "kg/m", "49.7", id="two decimal places"),
        # API Spec 9A Table C.1 prints 0.37 lb/ft at 1/2 in; 0.37 x 0.45359237 / 0.3048 x 100.
        pytest.param("0.37", "lb/ft", "55.1", id="pounds to the foot"),
    ],
)
def test_a_printed_mass_in_kg_per_100m(figure, unit, expected):
    assert in_kg_per_100m(printed(figure, unit)).stated == Decimal(expected)


def test_pounds_to_the_foot_are_exact_to_twenty_places():
    difference = KG_PER_100M_IN["lb/ft"] * Decimal("0.3048") - Decimal("45.359237")
    assert abs(difference) < Decimal("1e-20")


def test_the_printed_figure_stays_beneath():
    row = printed("0.37", "lb/ft")
    assert in_kg_per_100m(row).rests_on == (row,)


def test_a_unit_that_no_table_has_is_an_error():
    with pytest.raises(KeyError):
        in_kg_per_100m(printed("1", "stone/mile"))


def test_a_declared_mass_is_stated_as_given():
    found = declared_mass(g_per_100m=54_250, document="mill document 7")
    assert (found.text, found.basis) == (
        "54.25 kg/100m",
        "declared by the maker in mill document 7",
    )
