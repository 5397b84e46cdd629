from decimal import Decimal

import pytest

from certs.rules.sling_legs import (
    AngleConvention,
    LegArrangement,
    leg_factor,
    sine_of,
    us_rated_load,
)
from inventory.rules.refusal import Refusal
from tests.certs.rules.tables import LEG_FACTORS


# EN 13414-1:2003, leg factors by angle from the vertical (read twice and recomputed).
@pytest.mark.parametrize(
    ("legs", "angle", "factor"),
    [
        ("one_leg", "0", "1"),
        ("two_legs", "0", "1.4"),
        ("two_legs", "45", "1.4"),
        ("two_legs", "45.1", "1"),
        ("two_legs", "60", "1"),
        ("three_legs", "45", "2.1"),
        ("three_legs", "60", "1.5"),
        ("four_legs", "45", "2.1"),
        ("four_legs", "60", "1.5"),
        ("endless_choke", "0", "1.6"),
    ],
)
def test_leg_factor_by_angle_from_the_vertical(legs, angle, factor):
    found = leg_factor(LegArrangement(legs), angle_deg=Decimal(angle), rows=LEG_FACTORS)
    assert found.factor == Decimal(factor)
    assert found.convention is AngleConvention.FROM_VERTICAL


def test_forty_five_degrees_belong_to_the_steeper_band_whatever_the_order_of_rows():
    rows = tuple(reversed(LEG_FACTORS))
    found = leg_factor(LegArrangement.TWO_LEGS, angle_deg=Decimal(45), rows=rows)
    assert found.factor == Decimal("1.4")


@pytest.mark.parametrize("angle", ["60.1", "90", "-1"])
def test_angle_beyond_sixty_degrees_is_refused(angle):
    with pytest.raises(Refusal, match="from the vertical") as refusal:
        leg_factor(LegArrangement.TWO_LEGS, angle_deg=Decimal(angle), rows=LEG_FACTORS)
    assert refusal.value.field == "angle"


def test_factor_that_is_not_held_is_refused():
    with pytest.raises(Refusal, match="No leg factor is held for two legs"):
        leg_factor(LegArrangement.TWO_LEGS, rows=())


@pytest.mark.parametrize(
    ("legs", "text"),
    [
        ("one_leg", "one leg"),
        ("two_legs", "two legs, 0 to 45 degrees from the vertical"),
    ],
)
def test_leg_factor_tells_its_convention(legs, text):
    assert leg_factor(LegArrangement(legs), rows=LEG_FACTORS).text == text


# US rated-load tables formerly in 29 CFR 1910.184 (removed by 76 FR 33590): public check values,
# printed to two or three figures; beside them the same formula worked by hand to the pound.
@pytest.mark.parametrize(
    ("single_leg", "legs", "angle", "published", "worked"),
    [
        (12000, 2, 60, 20800, 20785),
        (12000, 2, 45, 17000, 16971),
        (12000, 2, 30, 12000, 12000),
        (12000, 3, 60, 31200, 31177),
        (12000, 3, 45, 25500, 25456),
        (12000, 3, 30, 18000, 18000),
        (3500, 2, 60, 6100, 6062),
        (3500, 2, 30, 3500, 3500),
    ],
)
def test_us_rated_load_by_angle_from_the_horizontal(single_leg, legs, angle, published, worked):
    load = us_rated_load(
        single_leg=Decimal(single_leg),
        unit="lb",
        legs=legs,
        angle_from_horizontal_deg=Decimal(angle),
    )
    assert round(load.unrounded) == worked
    assert abs(load.unrounded - published) <= published * Decimal("0.007")
    assert load.stated <= load.unrounded
    assert (load.basis, load.unit) == ("from_horizontal", "lb")


def test_us_load_keeps_angle_and_convention():
    load = us_rated_load(
        single_leg=Decimal("5.5"), unit="t", legs=4, angle_from_horizontal_deg=Decimal(90)
    )
    assert (load.text, load.inputs[0].value) == ("16.5 t", "3")
    assert load.inputs[3].unit == "degrees from the horizontal"
    assert "legs counted of 4, three at most" in load.steps()[1]


@pytest.mark.parametrize(
    ("legs", "single_leg", "angle", "field"),
    [
        pytest.param(2, "1", "29.9", "angle", id="too-flat"),
        pytest.param(2, "1", "91", "angle", id="beyond-upright"),
        pytest.param(0, "1", "60", "legs", id="no-leg"),
        pytest.param(2, "0", "60", "legs", id="no-load"),
    ],
)
def test_us_load_out_of_bounds_is_refused(legs, single_leg, angle, field):
    with pytest.raises(Refusal) as refusal:
        us_rated_load(
            single_leg=Decimal(single_leg),
            unit="t",
            legs=legs,
            angle_from_horizontal_deg=Decimal(angle),
        )
    assert refusal.value.field == field


# Exact values of the sine: 1/2, sqrt(2)/2, sqrt(3)/2, 1.
@pytest.mark.parametrize(
    ("angle", "sine"),
    [(30, "0.5"), (45, "0.707106781187"), (60, "0.866025403784"), (90, "1")],
)
def test_sine_of_an_angle(angle, sine):
    assert sine_of(Decimal(angle)) == Decimal(sine)
