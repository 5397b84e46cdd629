"""Verdicts on breaking-force tests.

Near-grip rule, rate and temperature: ISO 3108:2017. De-rating: ISO 10425:2003 5.1.4. Free lengths
and the rule that a near-grip break at the required force passes: from memory.
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.breaking_test import (
    Conditions,
    FreeLength,
    FreeLengthAsked,
    Outcome,
    free_length_mm,
    is_near_grip,
    judge_breaking_test,
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


def judge(*, peak_n=60_000, required_n=58_800, distance_mm=None, conditions=None):
    return judge_breaking_test(
        peak_n=peak_n,
        required_n=required_n,
        break_distance_mm=distance_mm,
        diameter_nm=TEN_MM,
        conditions=conditions,
    )


@pytest.mark.parametrize(
    ("peak_n", "distance_mm", "outcome"),
    [
        pytest.param(58_800, None, Outcome.MEETS, id="just enough, clear of the grips"),
        pytest.param(58_800, 61, Outcome.MEETS, id="just outside six diameters"),
        pytest.param(58_800, 60, Outcome.MEETS_LOWER_BOUND, id="at six diameters"),
        pytest.param(58_800, 0, Outcome.MEETS_LOWER_BOUND, id="in the grip"),
        pytest.param(58_799, 60, Outcome.DISCOUNTED, id="too weak, at six diameters"),
        pytest.param(58_799, 61, Outcome.FAILS, id="too weak, just outside"),
        pytest.param(58_799, None, Outcome.FAILS, id="too weak, clear of the grips"),
    ],
)
def test_outcome_by_force_and_place_of_the_break(peak_n, distance_mm, outcome):
    assert judge(peak_n=peak_n, distance_mm=distance_mm).outcome is outcome


def test_only_a_failure_derates_and_to_the_measured_force():
    assert judge(peak_n=55_000).derated_force_n == 55_000
    others = (judge(), judge(distance_mm=5), judge(peak_n=55_000, distance_mm=5))
    assert [verdict.derated_force_n for verdict in others] == [None, None, None]


def test_a_near_grip_break_is_a_lower_bound_for_statistics():
    verdicts = [judge(), judge(distance_mm=5), judge(peak_n=1, distance_mm=5), judge(peak_n=1)]
    assert [verdict.is_lower_bound for verdict in verdicts] == [False, True, True, False]


@pytest.mark.parametrize("peak_n", [1, 60_000])
@pytest.mark.parametrize("distance_mm", [None, 5])
def test_every_verdict_gives_reason_and_source(peak_n, distance_mm):
    verdict = judge(peak_n=peak_n, distance_mm=distance_mm)
    assert verdict.reason.endswith(".")
    assert verdict.source.startswith(("ISO 3108:2017", "ISO 10425:2003"))


def test_six_diameters_of_a_fraction_of_a_millimetre_are_exact():
    # 3/16 in is 4.7625 mm, six of it 28.575 mm.
    assert is_near_grip(break_distance_mm=28, diameter_nm=4_762_500)
    assert not is_near_grip(break_distance_mm=29, diameter_nm=4_762_500)


@pytest.mark.parametrize(
    ("temperature", "words"),
    [("9.9", "It was 9.9 °C"), ("35.1", "It was 35.1 °C"), (None, "not recorded")],
)
def test_a_temperature_outside_10_to_35_degrees_is_a_deviation(temperature, words):
    conditions = Conditions(temperature_c=temperature and Decimal(temperature))
    assert words in judge(conditions=conditions).deviations[0]


@pytest.mark.parametrize("temperature", ["10", "23", "35"])
def test_a_usual_temperature_is_none(temperature):
    assert judge(conditions=made(temperature_c=Decimal(temperature))).deviations == ()


@pytest.mark.parametrize(("percent_per_s", "count"), [(0.499, 0), (0.501, 1)])
def test_more_than_half_a_per_cent_a_second_is_a_deviation(percent_per_s, count):
    deviations = judge(conditions=made(loading=loaded(percent_per_s))).deviations
    assert ["ISO 3108:2017 allows 0.5 %" in text for text in deviations] == [True] * 2 * count


def test_a_test_without_a_log_does_not_show_how_the_load_rose():
    (text,) = judge(conditions=made(loading=None)).deviations
    assert text.startswith("No force log shows how fast the load rose")


@pytest.mark.parametrize(("length_mm", "words"), [(599, "was 599 mm"), (None, "not recorded")])
def test_a_short_or_missing_free_length_is_told_as_guidance(length_mm, words):
    (text,) = judge(conditions=made(free_length_mm=length_mm)).deviations
    assert words in text
    assert "600 mm is usual" in text
    assert "from memory" in text


@pytest.mark.parametrize(
    ("length_mm", "words"),
    [(900, ""), (899, "was 899 mm; 900 mm is asked for: order 7"), (None, "not recorded; 900 mm")],
)
def test_a_free_length_that_is_asked_for_takes_the_place_of_the_usual_one(length_mm, words):
    asked = FreeLengthAsked(900, "order 7")
    deviations = judge(conditions=made(free_length_mm=length_mm, asked=asked)).deviations
    assert bool(deviations) == bool(words)
    assert all(words in text for text in deviations)


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
    deviations = judge(conditions=made(free_length_mm=length_mm, asked=asked)).deviations
    assert [("no break can be clear" in text) for text in deviations] == [True] * is_told


def test_without_conditions_nothing_is_said_of_them():
    assert judge().deviations == ()


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


@given(st.integers(1, 10**8), st.integers(1, 10**8), st.none() | st.integers(0, 5000))
def test_a_pass_always_reached_the_required_force(peak_n, required_n, distance_mm):
    verdict = judge(peak_n=peak_n, required_n=required_n, distance_mm=distance_mm)
    passes = verdict.outcome in {Outcome.MEETS, Outcome.MEETS_LOWER_BOUND}
    assert passes == (peak_n >= required_n)
