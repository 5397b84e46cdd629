"""Peak and plateau of synthetic logs, of which the truth is known because they are made from it.

The tolerance is one reading or 2 % of the hold, whichever is more.
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from certs.rules.load_log import Sample
from certs.rules.load_trace import analyse, thin
from inventory.rules.refusal import Refusal
from tests.certs.rules.synthetic_log import proof, times, trace, with_spikes, without

LEVEL_N = 50_000.0
NOISE_N = 0.002 * LEVEL_N
SEEDS = range(5)

PAUSES = [
    (0.0, 0.0),
    (5.0, 0.5 * LEVEL_N),
    (15.0, 0.5 * LEVEL_N),
    (18.0, 0.8 * LEVEL_N),
    (28.0, 0.8 * LEVEL_N),
    (30.0, LEVEL_N),
    (90.0, LEVEL_N),
    (92.0, 0.0),
]
TOPPED_UP = [
    (0.0, 0.0),
    (10.0, LEVEL_N),
    (30.0, 0.985 * LEVEL_N),
    (30.5, LEVEL_N),
    (50.0, 0.985 * LEVEL_N),
    (50.5, LEVEL_N),
    (70.0, 0.985 * LEVEL_N),
    (72.0, 0.0),
]
BREAK = [(0.0, 0.0), (10.0, 80_000.0), (60.0, 100_000.0), (60.05, 3000.0), (63.0, 0.0)]
OVERSHOT = [
    (0.0, 0.0),
    (10.0, 1.1 * LEVEL_N),
    (11.0, LEVEL_N),
    (71.0, LEVEL_N),
    (73.0, 0.0),
]


def noisy(corners, seed, **how):
    until_s = corners[-1][0]
    return trace(corners, times(until_s=until_s, seed=seed, **how), noise_n=NOISE_N, seed=seed)


def spiked(seed):
    spikes = {100: 90_000.0, 300: 60_000.0, 301: 61_000.0, 500: 10_000.0, 700: 52_000.0}
    return with_spikes(noisy(proof(), seed), spikes)


LOGS = {
    "noise": (lambda seed: noisy(proof(), seed), 15.0, 75.0, 0.1),
    "slow drift": (lambda seed: noisy(proof(drift=0.03), seed), 15.0, 75.0, 0.1),
    "slow loading": (lambda seed: noisy(proof(ramp_s=60.0), seed), 65.0, 125.0, 0.1),
    "pauses on the way": (lambda seed: noisy(PAUSES, seed), 30.0, 90.0, 0.1),
    "topped up": (lambda seed: noisy(TOPPED_UP, seed), 10.0, 70.0, 0.1),
    "overshot at first": (lambda seed: noisy(OVERSHOT, seed), 11.0, 71.0, 0.1),
    "spikes": (spiked, 15.0, 75.0, 0.1),
    "a third missing": (lambda seed: without(noisy(proof(), seed), part=0.33), 15.0, 75.0, 0.3),
    "a gap": (lambda seed: without(noisy(proof(), seed), gaps=[(40.0, 48.0)]), 15.0, 75.0, 0.1),
    "uneven steps": (lambda seed: noisy(proof(), seed, jitter=0.9), 15.0, 75.0, 0.2),
    "ten a second, short": (lambda seed: noisy(proof(hold_s=10.0), seed), 15.0, 25.0, 0.1),
    "a hundred a second": (lambda seed: noisy(proof(), seed, step_s=0.01), 15.0, 75.0, 0.01),
    "in blocks": (lambda seed: noisy(proof(hold_s=200.0), seed, step_s=0.01), 15.0, 215.0, 0.01),
}


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("name", LOGS)
def test_the_hold_is_found_from_the_data(name, seed):
    make, start_s, end_s, step_s = LOGS[name]
    samples = make(seed)
    found = analyse(samples).plateau
    tolerance_s = max(step_s, 0.02 * (end_s - start_s)) + 1e-6
    assert found.start_s == pytest.approx(start_s, abs=tolerance_s)
    assert found.end_s == pytest.approx(end_s, abs=tolerance_s)
    assert found.hold_s == pytest.approx(end_s - start_s, abs=2 * tolerance_s)


@pytest.mark.parametrize(
    ("name", "lowest"),
    [
        ("noise", 1.0),
        ("slow drift", 0.97),
        ("pauses on the way", 1.0),
        ("topped up", 0.985),
        ("spikes", 1.0),
        ("uneven steps", 1.0),
        ("overshot at first", 1.0),
    ],
)
@pytest.mark.parametrize("seed", SEEDS)
def test_the_lowest_force_of_the_hold_is_right_within_the_noise(name, lowest, seed):
    found = analyse(LOGS[name][0](seed)).plateau
    assert found.lowest_n == pytest.approx(lowest * LEVEL_N, abs=6 * NOISE_N)
    assert found.level_n == pytest.approx(LEVEL_N, rel=0.02)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_peak_leaves_spikes_out_and_names_them(seed):
    found = analyse(spiked(seed))
    assert found.peak_n == pytest.approx(LEVEL_N, abs=6 * NOISE_N)
    assert found.raw_peak_n == 90_000
    assert [s.force_n for s in found.spikes] == [90_000.0, 60_000.0, 61_000.0, 10_000.0, 52_000.0]


def test_noise_alone_makes_no_spikes():
    assert not any(analyse(noisy(proof(), seed)).spikes for seed in range(20))


@pytest.mark.parametrize("step_s", [0.01, 0.1, 1.0])
def test_the_last_reading_before_a_break_is_the_peak_and_no_spike(step_s):
    found = analyse(trace(BREAK, times(until_s=63.0, step_s=step_s)), target_n=100_000)
    assert (found.peak_n, found.peak_at_s, found.spikes) == (100_000, 60.0, ())
    assert found.plateau is None


def test_the_rate_above_80_per_cent_of_the_required_force():
    # 80 to 100 kN in 50 s, by construction.
    found = analyse(trace(BREAK, times(until_s=63.0)), target_n=100_000)
    assert found.rate_n_per_s == pytest.approx(400.0, rel=0.01)


@pytest.mark.parametrize(
    "corners",
    [
        pytest.param([(0.0, 0.0), (1000.0, LEVEL_N)], id="a slow ramp"),
        pytest.param([(0.0, LEVEL_N), (60.0, 0.8 * LEVEL_N)], id="a load that falls"),
        pytest.param([(0.0, 0.0), (10.0, LEVEL_N), (20.0, 0.0)], id="up and down"),
        pytest.param([(0.0, 0.0), (30.0, 0.0)], id="nothing but noise"),
        pytest.param([(0.0, 0.0), (5.0, LEVEL_N), (6.0, LEVEL_N), (9.0, 0.0)], id="a second only"),
    ],
)
def test_what_is_no_hold_is_not_called_one(corners):
    assert analyse(noisy(corners, 1)).plateaus == ()


def test_every_hold_is_listed_and_the_long_high_one_is_the_main():
    found = analyse(noisy(PAUSES, 1))
    assert [round(p.level_n, -3) for p in found.plateaus] == [25_000, 40_000, 50_000]
    assert found.plateau == found.plateaus[2]


def test_short_holds_in_a_long_log_are_all_found():
    # Five seconds high, five seconds low, a hundred readings a second: more than fit unblocked.
    levels = [50_000.0, 30_000.0]
    samples = [Sample(i / 100, levels[i // 500 % 2]) for i in range(30_000)]
    found = analyse(samples).plateaus
    assert [p.level_n for p in found] == [50_000, 30_000] * 30
    assert all(p.hold_s == pytest.approx(4.99) for p in found)


def test_a_gap_is_told_and_counted_as_unseen():
    found = analyse(LOGS["a gap"][0](1), target_n=49_000)
    assert found.gaps == ((40.0, 48.0),)
    assert found.plateau.unseen_s == pytest.approx(8.0)
    assert found.longest_at_or_above_target_s == pytest.approx(27.2, abs=0.3)
    assert found.time_at_or_above_target_s == pytest.approx(52.4, abs=0.3)


def test_time_at_or_above_a_target_counts_readings_on_it():
    samples = [Sample(float(t), f) for t, f in enumerate([0.0, 5.0, 5.0, 6.0, 4.0, 5.0, 5.0, 0.0])]
    found = analyse(samples, target_n=5)
    assert found.time_at_or_above_target_s == 3.0
    assert found.longest_at_or_above_target_s == 2.0


@pytest.mark.parametrize("target_n", [None, 40_000, 49_900, 70_000])
def test_the_target_moves_neither_peak_nor_plateau(target_n):
    samples = noisy(proof(), 1)
    found, free = analyse(samples, target_n=target_n), analyse(samples)
    assert (found.peak_n, found.plateaus) == (free.peak_n, free.plateaus)


def test_an_empty_log_is_refused():
    with pytest.raises(Refusal, match="without readings"):
        analyse([])


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_a_few_readings_have_a_peak_and_nothing_else(count):
    found = analyse([Sample(float(i), 7.5) for i in range(count)])
    assert (found.peak_n, found.plateau, found.rate_n_per_s) == (7, None, None)


readings = st.lists(
    st.tuples(st.integers(1, 40), st.integers(-100, 10**6)), min_size=1, max_size=80
)


def from_steps(steps, *, offset_s=0.0):
    at, samples = offset_s, []
    for eighths, force in steps:
        at += eighths / 8
        samples.append(Sample(at, float(force)))
    return samples


@given(readings, st.sampled_from([2, 4, 1024]))
def test_scaling_all_forces_scales_the_findings(steps, factor):
    # Powers of two scale a binary float without rounding.
    samples = from_steps(steps)
    one = analyse(samples)
    many = analyse([Sample(s.time_s, s.force_n * factor) for s in samples])
    assert many.peak_n == one.peak_n * factor
    assert many.noise_n == one.noise_n * factor
    assert [s.time_s for s in many.spikes] == [s.time_s for s in one.spikes]
    assert [p.lowest_n for p in many.plateaus] == [p.lowest_n * factor for p in one.plateaus]
    assert [p.hold_s for p in many.plateaus] == [p.hold_s for p in one.plateaus]


@settings(max_examples=25)
@given(st.floats(0.01, 100.0))
def test_scaling_a_proof_load_by_anything_scales_its_findings(factor):
    samples = noisy(proof(), 1)
    one = analyse(samples)
    many = analyse([Sample(s.time_s, s.force_n * factor) for s in samples])
    assert many.peak_n == pytest.approx(one.peak_n * factor, rel=1e-3, abs=2)
    assert many.plateau.lowest_n == pytest.approx(one.plateau.lowest_n * factor, rel=1e-3, abs=2)
    assert many.plateau.hold_s == pytest.approx(one.plateau.hold_s, abs=0.2)


@given(readings, st.integers(-10_000, 10_000))
def test_shifting_the_time_shifts_the_findings(steps, shift_s):
    one, other = analyse(from_steps(steps)), analyse(from_steps(steps, offset_s=shift_s))
    assert other.peak_at_s == one.peak_at_s + shift_s
    assert [p.start_s for p in other.plateaus] == [p.start_s + shift_s for p in one.plateaus]
    assert [p.hold_s for p in other.plateaus] == [p.hold_s for p in one.plateaus]
    assert other.rate_n_per_s == one.rate_n_per_s


@given(readings, st.integers(4, 60))
def test_thinning_keeps_ends_and_extremes_in_order(steps, points):
    samples = from_steps(steps)
    few = thin(samples, points)
    assert len(few) <= points
    assert (few[0], few[-1]) == (samples[0], samples[-1])
    assert list(few) == [sample for sample in samples if sample in set(few)]
    forces = [sample.force_n for sample in samples]
    assert {min(forces), max(forces)} <= {sample.force_n for sample in few}


def test_thinning_makes_many_readings_few():
    few = thin(noisy(proof(), 1, step_s=0.01))
    assert 300 < len(few) <= 400
