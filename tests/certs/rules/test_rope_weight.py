from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.length_mass import length_mass, length_mass_from_table
from certs.rules.mass_unit import declared_mass
from certs.rules.rope_weight import rope_weight, total_weight
from tests.certs.rules.tables import API_INCH, API_METRIC, factor, rope, rope_of, spoken

MASS = length_mass(rope(), factor("6x7", "FC"))
LENGTHS = st.integers(1, 10**7)


# API Spec 9A 26th edition (2011), Table C.1: 100 m of each rope weighs what the table prints.
@pytest.mark.parametrize("row", API_METRIC, ids=spoken)
def test_hundred_metres_weigh_the_printed_mass(row):
    mass = length_mass_from_table(rope_of(row), row)
    weight = rope_weight(mass, length_mm=100_000, named="a piece")
    assert (weight.unrounded, weight.unit) == (Decimal(row.mass), "kg")


def test_pieces_weigh_together_what_they_weigh_apart():
    weight = rope_weight(MASS, length_mm=12_500, quantity=4, named="line 1")
    assert weight.unrounded == Decimal("24.85")
    assert weight.text == "24.9 kg"
    assert "m = 4 × 49.7 × 12.5 / 100 = 24.85 kg" in weight.steps()[-2]


def test_basis_is_that_of_the_mass():
    declared = declared_mass(g_per_100m=50_000, document="mill document 7")
    assert "mill document 7" in rope_weight(declared, length_mm=1000, named="a piece").basis


def test_mass_in_another_unit_is_refused():
    row = next(row for row in API_INCH if row.mass)
    with pytest.raises(ValueError, match="kg/100m is needed"):
        rope_weight(length_mass_from_table(rope_of(row), row), length_mm=1000, named="a piece")


def test_total_adds_before_it_rounds():
    lines = [rope_weight(MASS, length_mm=1010, named=f"line {n}") for n in (1, 2, 3)]
    total = total_weight(lines, named="the order")
    assert total.unrounded == 3 * Decimal("0.50197")
    assert total.text == "1.51 kg"
    assert "without reels" in total.basis


def test_nothing_weighs_nothing_that_could_be_said():
    with pytest.raises(ValueError, match="no weights"):
        total_weight([], named="the order")


@given(st.lists(LENGTHS, min_size=1, max_size=6))
def test_a_length_cut_up_weighs_the_same(lengths):
    parts = [rope_weight(MASS, length_mm=length, named="a part") for length in lengths]
    whole = rope_weight(MASS, length_mm=sum(lengths), named="the whole")
    assert total_weight(parts, named="all").unrounded == whole.unrounded
