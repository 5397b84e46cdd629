"""How a rope was loaded: both parts of the climb, found in logs made at known rates.

ISO 3108:2017: fast up to 80 % of the required force, then at most 0.5 % of it per second.
"""

import json
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from certs.rules.load_log import Sample
from certs.rules.loading_rate import loading_of
from certs.rules.loading_verdict import LoadingFinding
from inventory.rules.refusal import Refusal
from tests.certs.rules.synthetic_log import times, trace, with_spikes, without

REQUIRED_N = 60_000
MARK_N = 48_000
KEPT, EXCEEDED = LoadingFinding.KEPT, LoadingFinding.EXCEEDED
CANNOT_SAY, NOT_REACHED = LoadingFinding.CANNOT_SAY, LoadingFinding.NOT_REACHED
# Half of what class 1 allows the machine to err, at the required force.
NOISE_N = 0.0005 * REQUIRED_N


def pull(*, percent_per_s=0.4, peak=1.05, fast_s=10.0, required_n=REQUIRED_N):
    """Up to 80 % in `fast_s`, then at a rate to the peak, then the break."""
    end_s = fast_s + 100 * (peak - 0.8) / percent_per_s
    return [
        (0.0, 0.0),
        (fast_s, 0.8 * required_n),
        (end_s, peak * required_n),
        (end_s + 0.05, 0.03 * required_n),
        (end_s + 4.0, 0.0),
    ]


def bursting(*, burst_s=5.0, percent_per_s=2.0):
    """A slow climb at 0.2 % per second with a burst in it, from 30 s on."""
    burst_n = burst_s * percent_per_s / 100 * REQUIRED_N
    return [
        (0.0, 0.0),
        (10.0, MARK_N),
        (30.0, MARK_N + 2_400.0),
        (30.0 + burst_s, MARK_N + 2_400.0 + burst_n),
        (80.0, MARK_N + 2_400.0 + burst_n + 120.0 * (50.0 - burst_s)),
        (80.1, 0.0),
    ]


def log(corners, *, step_s=0.1, noise_n=0.0, seed=1, jitter=0.0):
    at = times(until_s=corners[-1][0], step_s=step_s, jitter=jitter, seed=seed)
    return trace(corners, at, noise_n=noise_n, seed=seed)


def found(corners, **how):
    return loading_of(log(corners, **how), required_n=REQUIRED_N)


@pytest.mark.parametrize("noise_n", [0.0, NOISE_N, 4 * NOISE_N])
@pytest.mark.parametrize("step_s", [0.01, 0.1, 1.0])
@pytest.mark.parametrize("rate", [0.1, 0.25, 0.4, 0.7, 2.0])
def test_known_rates_are_recovered(rate, step_s, noise_n):
    loading = found(pull(percent_per_s=rate), step_s=step_s, noise_n=noise_n)
    assert float(loading.mean.stated) == pytest.approx(rate, rel=0.02)
    # The greatest of many stretches lies above the truth by some standard errors, never below it.
    above = 4 * noise_n / REQUIRED_N * 100 * (12 * step_s / 5**3) ** 0.5
    assert rate * 0.98 <= float(loading.greatest.stated) <= rate * 1.02 + 1.5 * above
    # When the corner at 80 % was passed is as unsure as the noise over the slow rate: 2 s at most.
    assert float(loading.fast.stated) == pytest.approx(8.0, rel=0.05 if noise_n <= NOISE_N else 0.2)


@pytest.mark.parametrize(
    ("newtons_per_s", "finding"),
    [
        # 0.5 % of 58 800 N is 294 N.
        pytest.param(294.0, KEPT, id="just at the limit"),
        pytest.param(294.1, EXCEEDED, id="just above it"),
    ],
)
@pytest.mark.parametrize("step_s", [0.01, 0.1, 1.0])
def test_the_limit_itself_is_allowed(newtons_per_s, finding, step_s):
    rate = 100 * newtons_per_s / 58_800
    samples = log(pull(percent_per_s=rate, required_n=58_800), step_s=step_s)
    assert loading_of(samples, required_n=58_800).finding is finding


def test_the_parts_of_the_climb():
    # By construction: 80 % of 60 kN at 10 s, 63 kN at 72.5 s.
    loading = found(pull())
    assert (loading.mark_n, loading.peak_n, loading.peak_at_s) == (48_000, 63_000, 72.5)
    assert loading.started_at_s == pytest.approx(0.25)
    assert loading.marked_at_s == pytest.approx(10.0)
    assert loading.slow_s == pytest.approx(62.5)
    assert (loading.finding, loading.deviations, loading.unseen_s) == (KEPT, (), 0)


def test_a_mark_between_two_newtons_is_the_next_whole_one():
    # 80 % of 58 801 N is 47 040.8 N.
    assert loading_of(log(pull()), required_n=58_801).mark_n == 47_041


@pytest.mark.parametrize("noise_n", [0.0, NOISE_N])
@pytest.mark.parametrize("step_s", [0.02, 0.1, 0.5])
@pytest.mark.parametrize("burst_s", [3.0, 5.0, 8.0])
def test_a_local_overspeed_is_told_although_the_mean_is_kept(burst_s, step_s, noise_n):
    loading = found(bursting(burst_s=burst_s), step_s=step_s, noise_n=noise_n)
    assert loading.mean.unrounded < Decimal("0.5")
    assert loading.finding is EXCEEDED
    (text,) = loading.deviations
    assert "ISO 3108:2017 allows 0.5 %." in text
    # The five seconds told lie over the burst.
    assert loading.greatest_from_s < 30.0 + burst_s
    assert loading.greatest_to_s > 30.0


def test_the_burst_is_told_at_its_rate():
    assert float(found(bursting(burst_s=8.0)).greatest.stated) == pytest.approx(2.0, rel=0.01)


def test_spikes_are_no_overspeed():
    samples = with_spikes(log(pull(), noise_n=NOISE_N), {300: 90_000.0, 500: 20_000.0})
    loading = loading_of(samples, required_n=REQUIRED_N)
    assert (loading.finding, loading.peak_n < 64_000) == (KEPT, True)


def test_noise_alone_never_makes_it_too_fast():
    findings = {
        found(pull(percent_per_s=0.4), noise_n=NOISE_N, seed=seed).finding for seed in range(30)
    }
    assert findings == {KEPT}


def test_what_the_noise_hides_cannot_be_said():
    # One reading a second with a noise of 0.5 % of the force: slopes over 5 s scatter by 0.1 %/s.
    loading = found(pull(percent_per_s=0.45), step_s=1.0, noise_n=0.005 * REQUIRED_N)
    assert loading.finding is CANNOT_SAY
    assert any("standard error" in text for text in loading.deviations)


def test_a_slow_gap_cannot_be_said():
    samples = without(log(pull()), gaps=[(30.0, 40.0)])
    loading = loading_of(samples, required_n=REQUIRED_N)
    assert loading.finding is CANNOT_SAY
    assert loading.unseen_s == pytest.approx(10.0)
    (text,) = loading.deviations
    assert text == (
        "The log has no readings from 30.0 s to 40.0 s: how fast the load rose then cannot be said."
    )


def test_a_gap_that_ends_much_higher_hides_an_overspeed():
    # 10 % of the required force in the 5 s from 30 s: 2 % per second.
    samples = without(log(bursting()), gaps=[(29.95, 35.05)])
    loading = loading_of(samples, required_n=REQUIRED_N)
    assert loading.finding is EXCEEDED
    assert "in which the load rose by" in loading.deviations[-1]


def test_a_gap_below_the_mark_matters_to_nobody():
    samples = without(log(pull()), gaps=[(3.0, 7.0)])
    assert loading_of(samples, required_n=REQUIRED_N).finding is KEPT


def test_readings_far_apart_hide_what_is_short():
    loading = found(pull(percent_per_s=0.1), step_s=20.0)
    assert loading.finding is CANNOT_SAY
    assert "far apart" in loading.deviations[0]
    assert found(pull(percent_per_s=0.6), step_s=4.0).finding is EXCEEDED


def test_a_log_that_begins_above_the_mark_does_not_show_how_it_came_there():
    samples = [sample for sample in log(pull()) if sample.time_s > 20.0]
    loading = loading_of(samples, required_n=REQUIRED_N)
    assert (loading.finding, loading.marked_at_s, loading.slow_s) == (CANNOT_SAY, None, None)
    assert (loading.fast, loading.mean) == (None, None)
    assert loading.greatest is not None


def test_a_single_reading_above_the_mark_shows_no_rate():
    samples = [Sample(0.0, 0.0), Sample(1.0, 30_000.0), Sample(2.0, 50_000.0)]
    loading = loading_of(samples, required_n=REQUIRED_N)
    assert (loading.finding, loading.greatest) == (CANNOT_SAY, None)
    assert "too few readings" in loading.deviations[0]


def test_a_corner_that_is_seen_roughly_makes_no_overspeed():
    # 0.49 % per second, and no reading for almost two seconds around 80 %.
    samples = without(log(pull(percent_per_s=0.49)), gaps=[(9.05, 10.95)])
    assert loading_of(samples, required_n=REQUIRED_N).finding is KEPT


def test_pulled_fast_all_the_way():
    loading = found([(0.0, 0.0), (10.0, 60_000.0), (10.05, 0.0)])
    assert loading.finding is EXCEEDED
    # 10 % of the required force per second, by construction.
    assert float(loading.mean.stated) == pytest.approx(10.0, rel=0.01)
    assert float(loading.greatest.stated) == pytest.approx(10.0, rel=0.01)


def test_a_load_that_never_reached_the_mark_has_no_slow_part():
    loading = found([(0.0, 0.0), (5.0, 0.79 * REQUIRED_N), (5.1, 0.0)])
    assert (loading.finding, loading.deviations) == (NOT_REACHED, ())
    assert (loading.fast, loading.mean, loading.greatest) == (None, None, None)


def test_a_hold_at_the_top_does_not_water_the_mean_down():
    corners = [(0.0, 0.0), (10.0, MARK_N), (30.0, REQUIRED_N), (130.0, REQUIRED_N), (130.1, 0.0)]
    loading = found(corners)
    assert float(loading.mean.stated) == pytest.approx(1.0, rel=0.02)
    assert loading.finding is EXCEEDED


def test_a_flat_log_above_the_mark_rises_by_nothing():
    samples = [Sample(float(i), 50_000.0) for i in range(20)]
    loading = loading_of(samples, required_n=REQUIRED_N)
    # The first of the greatest readings ends the climb: one reading shows no rate.
    assert loading.finding is CANNOT_SAY


def test_a_rate_can_be_followed_from_its_inputs():
    greatest = found(pull(percent_per_s=0.4)).greatest
    rise, time, required = (Decimal(given.value) for given in greatest.inputs)
    assert greatest.unrounded == 100 * rise / (required * time)
    assert greatest.source.text == "ISO 3108, 2017 [one source]"
    assert greatest.steps()[0].endswith("r = 100 ΔF / (Fmin Δt)")
    assert greatest.unit == "% per s"


def test_an_empty_log_shows_nothing():
    with pytest.raises(Refusal, match="without readings"):
        loading_of([], required_n=REQUIRED_N)


@given(
    rate=st.floats(0.05, 3.0),
    step_s=st.sampled_from([0.02, 0.05, 0.1, 0.25]),
    jitter=st.floats(0.0, 0.9),
    part=st.floats(0.0, 0.5),
    seed=st.integers(0, 1000),
)
@settings(deadline=None, max_examples=60)
def test_resampling_changes_no_rate(rate, step_s, jitter, part, seed):
    corners = pull(percent_per_s=rate)
    whole = found(corners, step_s=0.01)
    samples = without(log(corners, step_s=step_s, jitter=jitter, seed=seed), part=part, seed=seed)
    other = loading_of(samples, required_n=REQUIRED_N)
    # When the corner at 80 % was passed is no surer than the readings beside it stand close.
    step = max(b.time_s - a.time_s for a, b in pairwise(samples))
    unsure = 0.01 + step / whole.slow_s
    assert float(other.mean.unrounded) == pytest.approx(float(whole.mean.unrounded), rel=unsure)
    assert float(other.greatest.unrounded) == pytest.approx(
        float(whole.greatest.unrounded), rel=0.02
    )
    if abs(rate - 0.5) > 0.02:
        assert (other.finding is EXCEEDED) == (rate > 0.5)


@given(rate=st.floats(0.05, 3.0), factor=st.integers(1, 50), shift_s=st.floats(0.0, 1e5))
@settings(deadline=None, max_examples=40)
def test_neither_the_size_of_the_rope_nor_the_clock_changes_a_rate(rate, factor, shift_s):
    samples = log(pull(percent_per_s=rate))
    one = loading_of(samples, required_n=REQUIRED_N)
    moved = [Sample(s.time_s + shift_s, s.force_n * factor) for s in samples]
    other = loading_of(moved, required_n=REQUIRED_N * factor)
    assert float(other.mean.unrounded) == pytest.approx(float(one.mean.unrounded), rel=1e-4)
    assert float(other.greatest.unrounded) == pytest.approx(float(one.greatest.unrounded), rel=1e-4)


@pytest.mark.parametrize("corners", [pull(), [(0.0, 0.0), (5.0, 40_000.0), (5.1, 0.0)]])
def test_its_plain_form_has_no_floats(corners):
    told = found(corners).as_json()
    assert json.loads(json.dumps(told)) == told
    assert not any(isinstance(value, float) for value in told.values())
    assert told["peak_ms"] == round(found(corners).peak_at_s * 1000)


def test_the_plain_form_tells_both_parts():
    told = found(pull()).as_json()
    assert (told["mark_n"], told["marked_ms"], told["slow_ms"]) == (48_000, 10_000, 62_500)
    assert (told["finding"], told["finding_text"]) == ("kept", "slow enough above 80 %")
    assert told["greatest"]["stated"] == "0.400"
    assert told["greatest"]["unit"] == "% per s"


def test_the_greatest_rate_says_how_unsure_it_is():
    (remark,) = found(pull(), noise_n=NOISE_N).greatest.remarks
    assert remark.startswith("Standard error from the scatter of the readings: 0.00")
