"""Probabilities of conformity against the worked examples of JCGM 106:2012."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.conformance_probability import (
    NoProbability,
    conformance_probability,
    one_sided_quantile,
    specific_consumers_risk,
    surely_above,
)


@pytest.mark.parametrize(
    ("y", "u", "limits", "published"),
    [
        # JCGM 106:2012, 7.3.3, example 1: breakdown voltage of a diode, in volts.
        pytest.param(-5.47, 0.05, {"upper": -5.40}, 0.92, id="one upper limit"),
        # JCGM 106:2012, 7.4.
        pytest.param(13.6, 1.8, {"lower": 12.5, "upper": 16.3}, 0.66, id="two limits"),
    ],
)
def test_published_probabilities(y, u, limits, published):
    assert conformance_probability(y, u, **limits) == pytest.approx(published, abs=0.005)
    assert specific_consumers_risk(y, u, **limits) == pytest.approx(1 - published, abs=0.005)


@pytest.mark.parametrize(
    ("probability", "z"),
    # JCGM 106:2012, Table 1.
    [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)],
)
def test_quantiles_of_table_1(probability, z):
    assert one_sided_quantile(probability) == pytest.approx(z, abs=0.006)


def test_the_speed_that_is_surely_too_high():
    # JCGM 106:2012, 8.3.3: limit 100 km/h, relative u 2 %, probability 99.9 %: about 107 km/h.
    speed = surely_above(100, relative_u=Decimal("0.02"), probability=Decimal("0.999"))
    assert round(speed) == 107
    assert conformance_probability(speed, 0.02 * speed, lower=100) == pytest.approx(0.999)


@pytest.mark.parametrize("probability", [0, 1, -1, 2])
def test_no_quantile_outside_0_to_1(probability):
    with pytest.raises(NoProbability, match="between 0 and 1"):
        one_sided_quantile(probability)


def test_nothing_is_sure_with_half_the_value_in_doubt():
    with pytest.raises(NoProbability, match="sure enough"):
        surely_above(100, relative_u=0.5, probability=0.999)


@pytest.mark.parametrize(
    ("y", "limits", "probability"),
    [
        pytest.param(10, {"lower": 10}, 1, id="on the limit"),
        pytest.param(9, {"lower": 10}, 0, id="below"),
        pytest.param(12, {"lower": 10, "upper": 11}, 0, id="above"),
        pytest.param(10, {"lower": 9, "upper": 11}, 1, id="within"),
    ],
)
def test_without_uncertainty_it_is_or_is_not(y, limits, probability):
    assert conformance_probability(y, 0, **limits) == probability
    assert specific_consumers_risk(y, 0, **limits) == 1 - probability


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        pytest.param({"u": 1}, "needs a lower or an upper", id="no limit"),
        pytest.param({"u": 1, "lower": 2, "upper": 1}, "above the upper", id="out of order"),
        pytest.param({"u": -1, "lower": 2}, "not below nought", id="negative"),
    ],
)
def test_what_has_no_probability(arguments, words):
    with pytest.raises(NoProbability, match=words):
        conformance_probability(1, **arguments)


def test_a_risk_of_one_in_a_thousand_million_keeps_its_figures():
    # ILAC-G8:09/2019, Table 1: w = 3 U leaves less than 1 ppm; at six u the tail is 9.87e-10
    # (tables of the normal distribution).
    risk = specific_consumers_risk(6, 1, lower=0)
    assert risk == pytest.approx(9.866e-10, rel=1e-3)


VALUES = st.floats(-1e6, 1e6)
DOUBTS = st.floats(1e-3, 1e5)


@given(VALUES, DOUBTS, VALUES, VALUES)
def test_probabilities_lie_between_nought_and_one(y, u, one, other):
    lower, upper = sorted((one, other))
    for limits in ({"lower": lower}, {"upper": upper}, {"lower": lower, "upper": upper}):
        p = conformance_probability(y, u, **limits)
        assert 0 <= p <= 1
        assert specific_consumers_risk(y, u, **limits) == pytest.approx(1 - p, abs=1e-9)


@given(VALUES, VALUES, DOUBTS, VALUES)
def test_more_measured_is_never_less_sure_to_reach_a_minimum(one, other, u, limit):
    less, more = sorted((one, other))
    assert conformance_probability(less, u, lower=limit) <= conformance_probability(
        more, u, lower=limit
    )


@given(VALUES, DOUBTS, DOUBTS, VALUES)
def test_more_uncertainty_draws_towards_one_half(y, one, other, limit):
    less, more = sorted((one, other))
    sure = abs(conformance_probability(y, less, lower=limit) - 0.5)
    assert abs(conformance_probability(y, more, lower=limit) - 0.5) <= sure + 1e-12


@given(VALUES, DOUBTS, VALUES)
def test_a_minimum_mirrors_a_maximum(y, u, limit):
    assert conformance_probability(y, u, lower=limit) == pytest.approx(
        conformance_probability(-y, u, upper=-limit), abs=1e-12
    )
