from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.control_chart import individuals_chart, mean_of
from certs.rules.derived import Source

BATCHES = [
    Decimal(value)
    for value in ("49.6", "47.6", "49.9", "51.3", "47.8", "51.2", "52.6", "52.4", "53.6", "52.1")
]
VALUES = st.lists(st.decimals(min_value="0.5", max_value="2", places=4), min_size=2, max_size=20)


def chart(values):
    return individuals_chart(values, quantity="force")


# NIST e-Handbook 6.3.2.2: ten batches (results read; the batches from memory, and recomputed).
@pytest.mark.parametrize(
    ("part", "printed"),
    [
        pytest.param("centre", "50.81", id="mean"),
        pytest.param("mean_range", "1.8778", id="mean moving range"),
        pytest.param("upper", "55.80", id="upper limit"),
        pytest.param("lower", "45.82", id="lower limit"),
    ],
)
def test_handbook_chart_of_ten_batches(part, printed):
    figure = getattr(chart(BATCHES), part)
    assert round(figure.unrounded, -Decimal(printed).as_tuple().exponent) == Decimal(printed)


def test_no_batch_of_the_handbook_is_outside():
    assert chart(BATCHES).outside == ()


def test_point_beyond_a_limit_is_named_by_its_place():
    quiet = [Decimal("1.00"), Decimal("1.01")] * 4
    assert chart([*quiet, Decimal("1.30"), *quiet]).outside == (8,)
    assert chart([*quiet, Decimal("0.70"), *quiet]).outside == (8,)


def test_limit_is_worked_in_the_open():
    steps = chart(BATCHES).upper.steps()
    assert "m = 508.1 / 10 = 50.81 → 50.810000 (to six decimals, half up)" in steps
    assert any("U = 50.81 + 3 × 1.877778 / 1.128" in step for step in steps)


@pytest.mark.parametrize("values", [[], [Decimal(1)]], ids=["none", "one"])
def test_nothing_moves_with_fewer_than_two(values):
    with pytest.raises(ValueError, match="no moving range"):
        chart(values)


@given(VALUES)
def test_limits_lie_evenly_about_the_mean(values):
    drawn = chart(values)
    above = drawn.upper.unrounded - drawn.centre.unrounded
    below = drawn.centre.unrounded - drawn.lower.unrounded
    assert float(above) == pytest.approx(float(below), abs=1e-12)
    assert min(values) <= drawn.centre.unrounded.quantize(Decimal("1e-20")) <= max(values)


@given(VALUES, st.decimals(min_value="-1", max_value="1", places=4))
def test_shifting_every_value_shifts_the_chart(values, shift):
    plain, moved = chart(values), chart([value + shift for value in values])
    assert float(moved.upper.unrounded - plain.upper.unrounded) == pytest.approx(float(shift))
    assert float(moved.mean_range.unrounded) == pytest.approx(float(plain.mean_range.unrounded))


def test_mean_names_its_source():
    source = Source("a book")
    assert mean_of(BATCHES, quantity="flow", unit="kN", source=source).source is source
