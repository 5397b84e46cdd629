from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.marked_load import difference_pct, mark_checks
from certs.rules.sling_legs import LegArrangement, leg_factor
from certs.rules.working_load import Rating, working_load
from tests.certs.rules.tables import LEG_FACTORS, PUBLISHED_LOADS
from tests.certs.rules.test_working_load import FERRULE, legs_of, printed, steel_core


def rated(size, name="one_leg", angle="0"):
    legs = leg_factor(LegArrangement(name), angle_deg=Decimal(angle), rows=LEG_FACTORS)
    return legs, Rating(working_load(steel_core(size), end=FERRULE, legs=legs), printed(size, legs))


# EN 13414-1:2003 Table 4 prints 2.25 t for 14 mm; by hand: 0.356 x 196 x 1.770 = 123.5, stated
# 124 kN; 124 x 0.9 / 49.05 = 2.2752 t; (2.25 - 2.2752) / 2.2752 = -1.1 %.
def test_the_difference_is_told_in_per_cent_of_the_formula():
    assert difference_pct(rated("14")[1]) == Decimal("-1.1")


def test_without_a_printed_value_there_is_no_difference():
    assert difference_pct(rated("11")[1]) is None


@pytest.mark.parametrize(
    "row", PUBLISHED_LOADS, ids=lambda row: f"{row.diameter_mm} {row.configuration}"
)
def test_no_printed_row_may_be_passed_by_a_mark(row):
    # EN 13414-1:2003 Table 4, every row: neither it nor the formula is ever passed.
    angle = "60" if "45-60" in row.configuration else "0"
    name = min(legs.value for legs in row.legs)
    legs, rating = rated(str(row.diameter_mm), name, angle)
    assert abs(difference_pct(rating)) <= Decimal("2.5")
    above, at = (
        mark_checks(load, [(legs, rating)])[0]
        for load in (rating.governing_t + Decimal("0.001"), rating.governing_t)
    )
    assert at.may_be_marked
    assert not above.may_be_marked
    assert rating.governing_t <= min(row.wll_t, rating.formula.unrounded)


def test_each_band_is_told_by_its_legs_and_angle():
    bands = [rated("12", "two_legs", "30"), rated("12", "two_legs", "60")]
    steep, flat = mark_checks(Decimal("2.0"), bands)
    assert steep.text == (
        "Two legs, 0 to 45 degrees from the vertical: 2.0 t may be marked; 2.3 t governs."
    )
    assert flat.text.startswith("Two legs, 45 to 60 degrees from the vertical: 2 t may not")


@given(marked=st.decimals("-1", "3", places=2))
def test_nothing_above_what_governs_and_nothing_below_nought_is_marked(marked):
    legs, rating = rated("12")
    check = mark_checks(marked, [(legs, rating)])[0]
    assert check.may_be_marked is (0 < marked <= rating.governing_t)


def test_the_legs_of_the_helper_are_those_of_the_table():
    assert rated("12")[0] == legs_of("one_leg")
