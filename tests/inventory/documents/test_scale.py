import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from inventory.documents.scale import Scale, plain, round_step, round_ticks


def test_a_scale_is_straight():
    scale = Scale(0, 200, 10, 110)
    assert [scale.at(0), scale.at(50), scale.at(200)] == [10, 35, 110]


def test_a_scale_may_run_upwards():
    assert Scale(0, 10, 300, 20).at(10) == 20


@pytest.mark.parametrize("high", [pytest.param(5, id="empty"), pytest.param(4, id="backwards")])
def test_a_scale_needs_an_extent(high):
    with pytest.raises(ValueError, match="needs an extent"):
        Scale(5, high, 0, 1)


@pytest.mark.parametrize(
    ("low", "high", "at_most", "ticks"),
    [
        pytest.param(0, 500, 10, (0, 50, 100, 150, 200, 250, 300, 350, 400, 450, 500), id="50"),
        pytest.param(0, 1, 5, (0, 0.2, 0.4, 0.6, 0.8, 1), id="tenths"),
        pytest.param(0, 7, 4, (0, 2, 4, 6), id="end not round"),
        pytest.param(-10, 30, 4, (-10, 0, 10, 20, 30), id="below zero"),
        pytest.param(3, 17, 3, (5, 10, 15), id="start not round"),
    ],
)
def test_ticks_are_round(low, high, at_most, ticks):
    assert round_ticks(low, high, at_most=at_most) == ticks


@given(st.floats(1e-3, 1e9), st.integers(2, 20))
def test_steps_are_one_two_or_five_and_not_too_many(span, at_most):
    step = round_step(span, at_most=at_most)
    leading = step / 10 ** math.floor(math.log10(step) + 1e-9)
    assert min(abs(leading - digit) for digit in (1, 2, 5, 10)) < 1e-6
    assert span / step <= at_most * (1 + 1e-6)


@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6))
def test_ticks_stay_within_the_ends(one, other):
    low, high = sorted((one, other))
    assume(high - low > 1e-3)
    slack = (high - low) * 1e-6
    assert all(low - slack <= tick <= high + slack for tick in round_ticks(low, high, at_most=8))


@pytest.mark.parametrize(
    ("value", "written"),
    [(0.0, "0"), (0.30, "0.3"), (100.0, "100"), (1e6, "1000000"), (-10.0, "-10")],
)
def test_tick_values_are_written_plainly(value, written):
    assert plain(value) == written
