from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.derived import (
    Derived,
    Given,
    Source,
    plain,
    round_down,
    round_half_up,
    trimmed,
    with_figures,
)
from inventory.rules.canonical import canonical_text

READ = Source("Some standard", "2003", "read")
REMEMBERED = Source("Some standard", "", "memory", "not seen")

POSITIVE = st.decimals(min_value="0.0001", max_value="1000000", allow_nan=False)


def derived(source=READ, *, inputs=(), rests_on=()):
    return Derived(
        quantity="minimum breaking force",
        symbol="Fmin",
        formula="Fmin = K d² Rr / 1000",
        inputs=(
            Given("K", "factor", "0.332", "", source),
            Given("d", "nominal diameter", "12", "mm"),
            Given("Rr", "rope grade", "1770", "N/mm²"),
            *inputs,
        ),
        source=READ,
        unrounded=Decimal("84.620160"),
        stated=Decimal("84.6"),
        unit="kN",
        rounding="three significant figures, half up",
        basis="factor",
        rests_on=rests_on,
        remarks=("Look twice.",),
    )


@pytest.mark.parametrize(
    ("value", "figures", "expected"),
    [
        pytest.param("84.620160", 3, "84.6", id="tail-falls-away"),
        pytest.param("1.125", 3, "1.13", id="a-half-goes-up"),
        pytest.param("115.66", 3, "116", id="whole-number"),
        pytest.param("1134.5", 3, "1130", id="thousands-without-exponent"),
        pytest.param("9.996", 3, "10.0", id="carry-keeps-three-figures"),
        pytest.param("999.9", 3, "1000", id="carry-past-the-mark"),
        pytest.param("0.09985", 3, "0.0999", id="below-one"),
        pytest.param("84.6", 2, "85", id="two-figures"),
        pytest.param("0", 3, "0.00", id="nought"),
    ],
)
def test_half_up_to_significant_figures(value, figures, expected):
    assert plain(round_half_up(Decimal(value), figures)) == expected


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        pytest.param("4.6249", "4.62", id="tail-falls-away"),
        pytest.param("4.6299", "4.62", id="never-up"),
        pytest.param("9.999", "9.99", id="no-carry"),
        pytest.param("20785", "20700", id="thousands"),
    ],
)
def test_down_to_significant_figures(value, expected):
    assert plain(round_down(Decimal(value))) == expected


@given(POSITIVE)
def test_rounding_down_never_overstates(value):
    assert round_down(value) <= value < round_down(value) * Decimal("1.0101")


@given(POSITIVE)
def test_rounding_again_changes_nothing(value):
    once = round_half_up(value)
    assert round_half_up(once) == once
    assert abs(once - value) <= value * Decimal("0.005")


def test_at_least_one_figure_is_needed():
    with pytest.raises(ValueError, match="at least one"):
        round_half_up(Decimal(1), 0)


@pytest.mark.parametrize(
    ("value", "expected"),
    [("1.500", "1.5"), ("12", "12"), ("1200", "1200"), ("1E+3", "1000"), ("3.00", "3")],
)
def test_trimming_keeps_the_value(value, expected):
    assert trimmed(Decimal(value)) == expected


@pytest.mark.parametrize(
    ("formula", "expected"),
    [
        pytest.param("F = K d² R / 1000", "F = 2 × 3² × 5 / 1000", id="product-with-square"),
        pytest.param("W = K R / (d g)", "W = 2 × 5 / (3 × 7)", id="product-below-the-line"),
        pytest.param("P = (K d + R) g", "P = (2 × 3 + 5) × 7", id="sum-in-brackets"),
        pytest.param("P = K (d + R)", "P = 2 × (3 + 5)", id="factor-before-bracket"),
        pytest.param("F = min(K, d, R g)", "F = min(2, 3, 5 × 7)", id="lowest-of-several"),
    ],
)
def test_figures_take_the_place_of_symbols(formula, expected):
    values = {"K": "2", "d": "3", "R": "5", "g": "7"}
    assert with_figures(formula, values) == expected


def test_steps_can_be_followed_by_hand():
    assert derived().steps() == (
        "minimum breaking force: Fmin = K d² Rr / 1000",
        "K = 0.332: factor; Some standard, 2003 [one source]",
        "d = 12 mm: nominal diameter",
        "Rr = 1770 N/mm²: rope grade",
        (
            "Fmin = 0.332 × 12² × 1770 / 1000 = 84.62016 kN → 84.6 kN "
            "(three significant figures, half up)"
        ),
        "Look twice.",
        "Source: Some standard, 2003 [one source]",
    )


def test_what_it_rests_on_is_told_first():
    steps = derived(rests_on=(derived(),)).steps()
    assert steps == (*derived().steps(), *derived().steps())


def test_endless_decimals_are_shown_as_cut():
    third = Derived(
        "a third", "x", "x = 1 / 3", (), READ, Decimal(1) / 3, Decimal("0.333"), "", "down", "sum"
    )
    assert third.steps()[1] == "x = 1 / 3 = 0.3333333… → 0.333 (down)"


def test_json_holds_every_number_as_text():
    written = derived(rests_on=(derived(),)).as_json()
    assert written["stated"] == "84.6"
    assert written["unrounded"] == "84.620160"
    assert written["rests_on"] == [derived().as_json()]
    assert written["inputs"][1] == {
        "symbol": "d",
        "name": "nominal diameter",
        "value": "12",
        "unit": "mm",
        "source": None,
    }
    assert '"edition":"2003"' in canonical_text(written)


@pytest.mark.parametrize(
    "value",
    [
        pytest.param(derived(REMEMBERED), id="an-input-from-memory"),
        pytest.param(derived(rests_on=(derived(REMEMBERED),)), id="an-earlier-step-from-memory"),
    ],
)
def test_memory_makes_a_value_provisional(value):
    assert value.is_provisional
    assert value.as_json()["is_provisional"] is True


def test_what_was_read_is_not_provisional():
    assert not derived().is_provisional


@pytest.mark.parametrize(
    ("confidence", "expected"),
    [
        ("read", False),
        ("two-sources (K); read (C, W)", False),
        ("read (limits) / memory (KT)", True),
        ("common practice", True),
        ("gap", True),
    ],
)
def test_confidence_words(confidence, expected):
    assert Source("x", confidence=confidence).is_provisional is expected


def test_source_text_leaves_out_what_is_not_known():
    assert Source("A book").text == "A book"
