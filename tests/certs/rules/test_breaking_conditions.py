"""How breaking-force tests should be made.

Rate and temperature: ISO 3108:2017. Free lengths: from memory.
"""

from decimal import Decimal

import pytest

from certs.rules.breaking_conditions import (
    Conditions,
    FreeLength,
    FreeLengthAsked,
    deviations_of,
    free_length_mm,
)
from certs.rules.loading_rate import loading_of
from inventory.rules.refusal import Refusal
from tests.certs.rules.synthetic_log import times, trace

TEN_MM = 10_000_000


def loaded(percent_per_s):
    """A rope pulled at this rate above 80 % of 58.8 kN, up to 60 kN."""
    end_s = 10 + 100 * (60_000 - 47_040) / 58_800 / percent_per_s
    corners = [(0.0, 0.0), (10.0, 47_040.0), (end_s, 60_000.0)]
    return loading_of(trace(corners, times(until_s=end_s)), required_n=58_800)


def made(**changes):
    """Conditions with nothing amiss, less what is changed."""
    usual = {"temperature_c": Decimal(20), "free_length_mm": 600, "loading": loaded(0.4)}
    return Conditions(**(usual | changes))


def deviations(conditions):
    return deviations_of(conditions, diameter_nm=TEN_MM)


@pytest.mark.parametrize(
    ("temperature", "words"),
    [("9.9", "It was 9.9 °C"), ("35.1", "It was 35.1 °C"), (None, "not recorded")],
)
def test_a_temperature_outside_10_to_35_degrees_is_a_deviation(temperature, words):
    conditions = Conditions(temperature_c=temperature and Decimal(temperature))
    assert words in deviations(conditions)[0]


@pytest.mark.parametrize("temperature", ["10", "23", "35"])
def test_a_usual_temperature_is_none(temperature):
    assert deviations(made(temperature_c=Decimal(temperature))) == ()


@pytest.mark.parametrize(
    ("percent_per_s", "count"),
    [
        pytest.param(0.499, 0, id="slow enough"),
        pytest.param(0.501, 1, id="sure of the fastest seconds, not of the mean"),
        pytest.param(0.51, 2, id="sure of both"),
    ],
)
def test_more_than_half_a_per_cent_a_second_is_a_deviation(percent_per_s, count):
    found = deviations(made(loading=loaded(percent_per_s)))
    assert ["ISO 3108:2017 allows 0.5 %" in text for text in found] == [True] * count


def test_a_test_without_a_log_does_not_show_how_the_load_rose():
    (text,) = deviations(made(loading=None))
    assert text.startswith("No force log shows how fast the load rose")


@pytest.mark.parametrize(("length_mm", "words"), [(599, "was 599 mm"), (None, "not recorded")])
def test_a_short_or_missing_free_length_is_told_as_guidance(length_mm, words):
    (text,) = deviations(made(free_length_mm=length_mm))
    assert words in text
    assert "600 mm is usual" in text
    assert "from memory" in text


@pytest.mark.parametrize(
    ("length_mm", "words"),
    [(900, ""), (899, "was 899 mm; 900 mm is asked for: order 7"), (None, "not recorded; 900 mm")],
)
def test_a_free_length_that_is_asked_for_takes_the_place_of_the_usual_one(length_mm, words):
    asked = FreeLengthAsked(900, "order 7")
    found = deviations(made(free_length_mm=length_mm, asked=asked))
    assert bool(found) == bool(words)
    assert all(words in text for text in found)


@pytest.mark.parametrize(
    ("length_mm", "source", "field"),
    [(0, "order 7", "free_length_asked_mm"), (900, " ", "free_length_source")],
)
def test_a_free_length_is_asked_for_with_its_source(length_mm, source, field):
    with pytest.raises(Refusal) as refused:
        FreeLengthAsked(length_mm, source)
    assert refused.value.field == field


@pytest.mark.parametrize(("length_mm", "is_told"), [(120, True), (121, False)])
def test_a_sample_with_no_place_clear_of_both_grips_is_told(length_mm, is_told):
    # Six diameters of 10 mm from either end.
    asked = FreeLengthAsked(100, "order 7")
    found = deviations(made(free_length_mm=length_mm, asked=asked))
    assert [("no break can be clear" in text) for text in found] == [True] * is_told


@pytest.mark.parametrize(
    ("diameter_nm", "length_mm"),
    [
        (1_500_000, 300),
        (6_000_000, 300),
        (6_000_001, 600),
        (20_000_000, 600),
        (20_500_000, 615),
        (25_400_000, 762),
        (22_225_000, 667),
    ],
)
def test_free_length_by_diameter(diameter_nm, length_mm):
    # 300 mm, 600 mm, 30 d rounded up: older edition of ISO 3108, from memory.
    assert free_length_mm(diameter_nm=diameter_nm) == length_mm


def test_free_lengths_can_be_replaced():
    # ASTM A931, from memory: about 0.9 m up to 25 mm; nothing is given here for more.
    rows = (FreeLength(up_to_nm=25_000_000, length_mm=900),)
    assert free_length_mm(diameter_nm=TEN_MM, lengths=rows) == 900
    assert free_length_mm(diameter_nm=26_000_000, lengths=rows) is None
