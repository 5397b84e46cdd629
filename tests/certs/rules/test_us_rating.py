import csv
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.breaking_force import derive_from_factor
from certs.rules.derived import Source
from certs.rules.sling_legs import SINGLE_STRAIGHT, AngleConvention, LegArrangement
from certs.rules.termination import Efficiency, TerminationKind
from certs.rules.us_rating import in_pounds, us_leg_factors, us_leg_load, us_load
from inventory.rules.refusal import Refusal
from tests.certs.rules.tables import factor, rope

SLEEVE = Efficiency(
    TerminationKind.FERRULE_SECURED_EYE,
    "mechanical splice sleeve <= 1 in",
    Decimal("0.95"),
    "0.95 IWRC",
    Source("US Army TM 5-3810-305-10 Table 4", "", "two-sources"),
    "near end",
)
ROPE = derive_from_factor(rope("12", "6x36WS-IWRC", "1770"), factor("6x36", "IWRC"))


# Legs x sin(h) at the angles of the tables formerly in 29 CFR 1910.184; sines are exact values.
@pytest.mark.parametrize(
    ("legs", "factors"),
    [
        ("one_leg", ["1"]),
        ("two_legs", ["1.732050807568", "1.414213562374", "1"]),
        ("three_legs", ["2.598076211352", "2.121320343561", "1.5"]),
        ("four_legs", ["2.598076211352", "2.121320343561", "1.5"]),
    ],
)
def test_legs_are_counted_to_three_at_each_flattest_angle(legs, factors):
    found = us_leg_factors(LegArrangement(legs))
    assert [row.factor for row in found] == [Decimal(value) for value in factors]
    assert {row.convention for row in found} == {AngleConvention.FROM_HORIZONTAL}


def test_every_band_names_the_line_it_counts_from():
    texts = [row.text for row in us_leg_factors(LegArrangement.TWO_LEGS)]
    assert texts == [
        "two legs, 60 to 90 degrees from the horizontal",
        "two legs, 45 to 60 degrees from the horizontal",
        "two legs, 30 to 45 degrees from the horizontal",
    ]


def test_one_leg_carries_a_fifth_of_what_its_end_keeps():
    # 0.356 x 144 x 1770 / 1000 = 90.7 kN; 90.7 x 0.95 / (5 x 9.81) = 1.7567 t, by hand.
    load = us_leg_load(ROPE, end=SLEEVE)
    assert (load.text, load.is_provisional) == ("1.75 t", True)
    # 1.75 t are 3858 lb (1 lb is 0.45359237 kg).
    assert load.remarks[-1] == "In pounds, rounded down: 3850 lb."


@pytest.mark.parametrize(
    ("legs", "stated"),
    [
        # 1.75 x 2 x sin 60, 45, 30, by hand, rounded down to three figures.
        ("two_legs", ["3.03", "2.47", "1.75"]),
        ("four_legs", ["4.54", "3.71", "2.62"]),
    ],
)
def test_a_bridle_follows_from_one_leg(legs, stated):
    one = us_leg_load(ROPE, end=SLEEVE)
    loads = [us_load(one, legs=row) for row in us_leg_factors(LegArrangement(legs))]
    assert [load.stated for load in loads] == [Decimal(value) for value in stated]
    assert all(load.rests_on == (one,) for load in loads)
    assert all(load.basis == "from_horizontal" for load in loads)


def test_the_upright_leg_is_its_own_load():
    one = us_leg_load(ROPE, end=SLEEVE)
    assert us_load(one, legs=us_leg_factors(LegArrangement.ONE_LEG)[0]) is one


# 29 CFR 1910.184 rated-load tables (removed by 76 FR 33590): every row of the check file, within
# the rounding of the print, by the factors of the bands.
def rows_of_the_check_file():
    sheet = Path(__file__).parent / "us_angle_check.csv"
    with sheet.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize(
    "row",
    rows_of_the_check_file(),
    ids=lambda row: f"{row['single_leg_lb']} {row['legs']} at {row['angle_from_horizontal_deg']}",
)
def test_bands_meet_the_published_table(row):
    legs = {"2": LegArrangement.TWO_LEGS, "3": LegArrangement.THREE_LEGS}[row["legs"]]
    angle = Decimal(row["angle_from_horizontal_deg"])
    (band,) = [found for found in us_leg_factors(legs) if found.from_deg == angle]
    load = Decimal(row["single_leg_lb"]) * band.factor
    assert round(load) == int(row["formula_lb"])
    assert abs(load - int(row["published_lb"])) <= Decimal("0.007") * int(row["published_lb"])


def test_an_endless_sling_has_no_american_rating():
    with pytest.raises(Refusal, match="No American rated load") as refusal:
        us_leg_factors(LegArrangement.ENDLESS_CHOKE)
    assert refusal.value.field == "convention"


def test_several_legs_without_an_angle_are_refused():
    one = us_leg_load(ROPE, end=SLEEVE)
    bare = type(SINGLE_STRAIGHT)(
        LegArrangement.TWO_LEGS,
        None,
        None,
        AngleConvention.FROM_HORIZONTAL,
        Decimal(2),
        SINGLE_STRAIGHT.source,
    )
    with pytest.raises(Refusal, match="need an angle"):
        us_load(one, legs=bare)


# The pound is 0.45359237 kg exactly (international yard and pound agreement, 1959).
@pytest.mark.parametrize(
    ("load_t", "text"), [("0.45359237", "1000 lb"), ("1", "2200 lb"), ("10", "22000 lb")]
)
def test_tonnes_in_pounds(load_t, text):
    assert in_pounds(Decimal(load_t)).endswith(f"{text}.")


@given(kt=st.decimals("0.1", "1", places=2), more=st.decimals("0", "0.5", places=2))
def test_a_better_end_never_carries_less(kt, more):
    def load(share):
        end = Efficiency(SLEEVE.kind, "end", share, str(share), SLEEVE.source)
        return us_leg_load(ROPE, end=end)

    assert load(kt).unrounded <= load(kt + more).unrounded
    assert load(kt).stated <= load(kt).unrounded


@given(legs=st.sampled_from(["two_legs", "three_legs", "four_legs"]))
def test_a_flatter_band_never_carries_more(legs):
    one = us_leg_load(ROPE, end=SLEEVE)
    loads = [us_load(one, legs=row).stated for row in us_leg_factors(LegArrangement(legs))]
    assert loads == sorted(loads, reverse=True)
    assert loads[0] <= 3 * one.stated
