"""What holds of every force log: the hold found depends on the load, not on how it was written."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from certs.rules.load_log import read_log
from certs.rules.load_plateau import usual_step_s
from certs.rules.load_runs import BAND, flat_runs, reach
from certs.rules.load_spikes import find_spikes, running_median
from certs.rules.load_trace import analyse
from tests.certs.rules.synthetic_log import proof, times, trace, without

LEVEL_N = 50_000.0
STEPS = st.sampled_from([0.05, 0.1, 0.2])
QUIET = settings(max_examples=40, deadline=None)


@st.composite
def loads(draw):
    """Corners of a proof load, with when its hold begins and ends."""
    ramp_s, hold_s = draw(st.floats(3.0, 10.0)), draw(st.floats(10.0, 40.0))
    drift = draw(st.floats(-0.02, 0.03))
    return proof(ramp_s=ramp_s, hold_s=hold_s, drift=drift), 5.0 + ramp_s, 5.0 + ramp_s + hold_s


def recorded(corners, *, step_s, noise=0.0, seed=1):
    at = times(until_s=corners[-1][0], step_s=step_s)
    return trace(corners, at, noise_n=noise * LEVEL_N, seed=seed)


@QUIET
@given(loads(), STEPS, st.integers(2, 5))
def test_resampling_moves_neither_end_by_more_than_one_step(load, step_s, every):
    samples = recorded(load[0], step_s=step_s)
    fine, coarse = analyse(samples).plateau, analyse(samples[::every]).plateau
    one_step = every * step_s + 1e-6
    assert abs(coarse.start_s - fine.start_s) <= one_step
    assert abs(coarse.end_s - fine.end_s) <= one_step
    assert coarse.lowest_n == pytest.approx(fine.lowest_n, rel=0.03 * one_step)


@QUIET
@given(loads(), STEPS, st.floats(0.0, 0.002), st.integers(0, 10**6))
def test_noise_never_lengthens_the_hold_beyond_what_was_held(load, step_s, noise, seed):
    corners, start_s, end_s = load
    found = analyse(recorded(corners, step_s=step_s, noise=noise, seed=seed)).plateau
    assert start_s - step_s <= found.start_s
    assert found.end_s <= end_s + step_s
    assert found.hold_s <= end_s - start_s + step_s


@QUIET
@given(loads(), STEPS, st.floats(0.0, 0.006), st.integers(0, 10**6))
def test_whatever_the_noise_the_load_was_there_at_either_end(load, step_s, noise, seed):
    # Noise of six standard deviations and one step of time are what an edge may be out by.
    corners, start_s, end_s = load
    found = analyse(recorded(corners, step_s=step_s, noise=noise, seed=seed)).plateau
    rise_s = 6 * noise * (start_s - 5.0) + step_s
    fall_s = 6 * noise * 3.0 + step_s
    assert start_s - rise_s <= found.start_s
    assert found.end_s <= end_s + fall_s


@QUIET
@given(loads(), st.floats(0.0, 0.4), st.integers(0, 10**6))
def test_lost_readings_never_lengthen_the_hold(load, part, seed):
    corners, start_s, end_s = load
    samples = without(recorded(corners, step_s=0.1), part=part, seed=seed)
    found = analyse(samples).plateau
    widest_s = max(b.time_s - a.time_s for a, b in pairwise(samples))
    assert start_s - 0.1 <= found.start_s <= start_s + 2 * widest_s
    assert end_s - 2 * widest_s <= found.end_s <= end_s + 0.1


@QUIET
@given(loads(), STEPS, st.floats(0.0, 0.01), st.integers(0, 10**6))
def test_the_lowest_is_the_least_reading_of_the_hold(load, step_s, noise, seed):
    samples = recorded(load[0], step_s=step_s, noise=noise, seed=seed)
    findings = analyse(samples)
    kept = [sample for sample in samples if sample not in set(findings.spikes)]
    for plateau in findings.plateaus:
        held = [s.force_n for s in kept if plateau.start_s <= s.time_s <= plateau.end_s]
        assert plateau.lowest_n == math.floor(min(held))
        assert plateau.hold_s == plateau.end_s - plateau.start_s


def written(samples, *, time_unit, force_unit):
    """A log with whole ms and N, written in other units by moving the decimal point."""
    ms = {"s": "{0}.{1:03d}", "ms": "{2}"}[time_unit]
    kn = {"kN": "{0}.{1:03d}", "N": "{2}"}[force_unit]
    rows = [f"Time [{time_unit}];Force [{force_unit}]"]
    for sample in samples:
        at, force = round(sample.time_s * 1000), max(0, round(sample.force_n))
        rows.append(ms.format(*divmod(at, 1000), at) + ";" + kn.format(*divmod(force, 1000), force))
    return "\n".join(rows)


@settings(max_examples=10, deadline=None)
@given(loads(), st.sampled_from(["s", "ms"]), st.sampled_from(["kN", "N"]))
def test_the_unit_that_a_log_is_written_in_changes_nothing(load, time_unit, force_unit):
    samples = recorded(load[0], step_s=0.1, noise=0.001)
    plain = written(samples, time_unit="s", force_unit="N")
    other = written(samples, time_unit=time_unit, force_unit=force_unit)
    assert analyse(read_log(plain).samples) == analyse(read_log(other).samples)


@pytest.mark.parametrize("lasts_s", [60, 300, 1000])
@pytest.mark.parametrize("noise", [0.0, 0.001, 0.003])
@pytest.mark.parametrize("seed", range(3))
def test_an_even_ramp_however_slow_holds_nothing_that_counts(lasts_s, noise, seed):
    corners = [(0.0, 0.0), (float(lasts_s), LEVEL_N), (lasts_s + 3.0, 0.0)]
    findings = analyse(recorded(corners, step_s=0.2, noise=noise, seed=seed))
    assert findings.plateaus == ()


@given(st.lists(st.floats(-1e6, 1e6), min_size=5, max_size=40))
def test_the_running_median_is_the_third_of_five_in_order(forces):
    quiet = running_median(np.array(forces))
    for i in range(2, len(forces) - 2):
        assert quiet[i] == sorted(forces[i - 2 : i + 3])[2]


@pytest.mark.parametrize(
    ("step_s", "count", "is_spike"),
    [(0.1, 1, True), (0.1, 2, True), (0.1, 3, False), (0.25, 1, True), (0.3, 1, False)],
)
def test_a_load_gone_for_half_a_second_or_less_is_a_spike(step_s, count, is_spike):
    at = np.arange(60) * step_s
    forces = np.full(60, LEVEL_N)
    forces[30 : 30 + count] = 0.6 * LEVEL_N
    assert find_spikes(at, forces).any() == is_spike


def longest_in_band(at, forces, low, high, floor_n):
    """Every window tried in turn."""
    windows = [
        (at[j] - at[i], -i, (i, j + 1))
        for i in range(low, high)
        for j in range(i, high)
        if min(forces[i : j + 1]) >= max(floor_n, (1 - BAND) * max(forces[i : j + 1]))
    ]
    return max(windows, default=None)


@given(
    st.lists(st.sampled_from([0, 50, 90, 96, 98, 100]), min_size=1, max_size=25),
    st.lists(st.integers(1, 5), min_size=25, max_size=25),
)
def test_the_first_flat_run_is_the_longest_of_all_windows(forces, steps):
    at = np.cumsum(steps[: len(forces)]).astype(float)
    values = np.array(forces, dtype=float)
    runs = flat_runs(at, values, floor_n=20.0)
    best = longest_in_band(at, values, 0, len(forces), 20.0)
    if best is None or best[0] < 2.0:
        assert runs == []
    else:
        start, end = runs[0]
        assert at[end - 1] - at[start] == best[0]


def test_nothing_is_flat_in_a_log_without_load():
    assert flat_runs(np.arange(5.0), np.zeros(5), floor_n=0.0) == []


@pytest.mark.parametrize(("later", "run"), [(True, (5_000, 15_001)), (False, (100, 5_010))])
def test_a_run_reaches_as_far_as_its_band_however_long(later, run):
    forces = np.full(15_001, 99.0)
    forces[:100] = 50.0
    assert reach(forces, 5_000, 5_010, later=later) == run


def test_usual_step():
    assert usual_step_s(np.array([0.0, 1.0, 2.0, 9.0])) == 1.0
    assert usual_step_s(np.array([3.0])) == 0
    assert math.isclose(usual_step_s(np.arange(0, 1, 0.1)), 0.1)
