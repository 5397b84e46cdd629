from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.sling_legs import LegArrangement
from certs.rules.stated_mark import check_mark, stated_mark
from certs.rules.us_rating import us_leg_factors, us_leg_load, us_load
from certs.rules.working_load import MarkedTooHigh, Rating
from inventory.rules.refusal import Refusal
from tests.certs.rules.test_marked_load import rated
from tests.certs.rules.test_us_rating import ROPE, SLEEVE

# EN 13414-1:2003 Table 4 prints 2.3 t for two legs of 12 mm, 0 to 45 degrees.
TWO_LEGS = [rated("12", "two_legs", "30"), rated("12", "two_legs", "60")]


def us_bridle():
    one = us_leg_load(ROPE, end=SLEEVE)
    rows = us_leg_factors(LegArrangement.TWO_LEGS)
    return [(row, Rating(us_load(one, legs=row), None)) for row in rows]


def test_the_mark_of_several_legs_is_for_the_first_band_and_says_so():
    mark = check_mark(2200, TWO_LEGS)
    assert mark.text == (
        "Working load limit marked: 2.2 t, at 0 to 45 degrees from the vertical; derived 2.3 t"
    )
    assert mark.words == (
        "At 0 to 45 degrees from the vertical; derived 2.3 t. EN 13414-1, angles counted from the"
        " vertical. Nothing heavier than the mark at any angle, even where more is derived"
    )


def test_one_leg_has_no_angle_to_name():
    # By hand: 0.356 x 144 x 1.770 = 90.7 kN; 90.7 x 0.9 / 49.05 = 1.664 t.
    mark = check_mark(1600, [rated("12")])
    assert mark.text == "Working load limit marked: 1.6 t, for one leg; derived 1.66 t"
    assert "at any angle" not in mark.words


# 1.75 t x 2 sin 60 = 3.03 t; 3000 kg / 0.45359237 = 6613.9 lb, by hand.
def test_an_american_mark_is_told_in_pounds_too_and_from_the_horizontal():
    mark = check_mark(3000, us_bridle())
    assert mark.place == "at 60 to 90 degrees from the horizontal"
    assert mark.words.startswith("At 60 to 90 degrees from the horizontal; derived 3.03 t. United")
    assert mark.words.endswith("In pounds, rounded down: 6613 lb")


def test_a_kilogram_above_what_governs_is_refused():
    assert check_mark(2300, TWO_LEGS).refusal == ""
    with pytest.raises(MarkedTooHigh, match=r"2\.301 t may not be marked") as refused:
        check_mark(2301, TWO_LEGS)
    assert refused.value.field == "marked_kg"


def test_what_is_not_rated_has_no_mark():
    assert stated_mark(1000, []) is None
    with pytest.raises(Refusal, match="no working load limit") as refused:
        check_mark(1000, [])
    assert refused.value.field == "marked_kg"


@given(kg=st.integers(0, 5000))
def test_no_mark_ever_passes_what_governs_the_first_band(kg):
    mark = stated_mark(kg, TWO_LEGS)
    assert (mark.refusal == "") is (0 < Decimal(kg) / 1000 <= TWO_LEGS[0][1].governing_t)
