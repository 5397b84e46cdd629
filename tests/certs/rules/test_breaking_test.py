"""Verdicts on breaking-force tests.

Near-grip rule: ISO 3108:2017. De-rating: ISO 10425:2003 5.1.4. That a near-grip break at the
required force passes: from memory. A break without a place: own decision, safe side.
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.breaking_conditions import Conditions
from certs.rules.breaking_test import (
    PLACE_UNKNOWN,
    Outcome,
    is_near_grip,
    judge_breaking_test,
)

TEN_MM = 10_000_000


def judge(*, peak_n=60_000, required_n=58_800, distance_mm=None, **said):
    return judge_breaking_test(
        peak_n=peak_n,
        required_n=required_n,
        break_distance_mm=distance_mm,
        diameter_nm=TEN_MM,
        **said,
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


@pytest.mark.parametrize(
    ("peak_n", "outcome", "words"),
    [
        pytest.param(58_800, Outcome.MEETS, "reached the required", id="just enough"),
        pytest.param(58_799, Outcome.FAILS, "nothing lets the test be discounted", id="too weak"),
    ],
)
def test_a_break_without_a_place_is_never_discounted(peak_n, outcome, words):
    verdict = judge(peak_n=peak_n, is_place_known=False)
    assert verdict.outcome is outcome
    assert words in verdict.reason
    assert "clear of the grips" not in verdict.reason
    assert verdict.derated_force_n == (peak_n if outcome is Outcome.FAILS else None)


def test_a_pass_without_a_place_is_told_as_a_deviation():
    told = Conditions(temperature_c=Decimal(20), free_length_mm=600)
    first, *others = judge(is_place_known=False, conditions=told).deviations
    assert first == PLACE_UNKNOWN
    assert tuple(others) == judge(conditions=told).deviations
    assert judge(is_place_known=False).deviations == (PLACE_UNKNOWN,)
    assert judge(peak_n=1, is_place_known=False).deviations == ()


@given(st.integers(1, 10**8), st.integers(1, 10**8), st.none() | st.integers(0, 5000))
def test_not_knowing_the_place_never_helps_the_rope(peak_n, required_n, distance_mm):
    said = {"peak_n": peak_n, "required_n": required_n}
    known, unknown = judge(distance_mm=distance_mm, **said), judge(is_place_known=False, **said)
    assert (unknown.outcome is Outcome.MEETS) == (peak_n >= required_n)
    assert known.derated_force_n is None or unknown.derated_force_n == known.derated_force_n


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


def test_without_conditions_nothing_is_said_of_them():
    assert judge().deviations == ()


@given(st.integers(1, 10**8), st.integers(1, 10**8), st.none() | st.integers(0, 5000))
def test_a_pass_always_reached_the_required_force(peak_n, required_n, distance_mm):
    verdict = judge(peak_n=peak_n, required_n=required_n, distance_mm=distance_mm)
    passes = verdict.outcome in {Outcome.MEETS, Outcome.MEETS_LOWER_BOUND}
    assert passes == (peak_n >= required_n)
