"""Force logs of which the truth is known, because they are made from it."""

from itertools import pairwise
from random import Random

from certs.rules.load_log import Sample


def times(*, until_s, step_s=0.1, jitter=0.0, seed=1):
    """Return rising times; `jitter` is the part of a step by which each may be late."""
    chance = Random(seed)  # noqa: S311 -- noise, not secrets
    count = round(until_s / step_s) + 1
    return [round((i + jitter * chance.random()) * step_s, 6) for i in range(count)]


def trace(corners, at, *, noise_n=0.0, seed=2):
    """Return samples on the line through `corners` ((s, N), ...) with normal noise."""
    chance = Random(seed)  # noqa: S311 -- noise, not secrets
    return [Sample(t, _force(corners, t) + chance.gauss(0.0, noise_n)) for t in at]


def proof(peak_n=50_000.0, *, ramp_s=10.0, hold_s=60.0, drift=0.0):
    """Return the corners of ramp, hold (falling by a part `drift`) and release."""
    start, end = 5.0 + ramp_s, 5.0 + ramp_s + hold_s
    return [
        (0.0, 0.0),
        (5.0, 0.0),
        (start, peak_n),
        (end, peak_n * (1 - drift)),
        (end + 3.0, 0.0),
        (end + 8.0, 0.0),
    ]


def with_spikes(samples, spikes):
    """Return the samples with the force at each index replaced."""
    return [Sample(s.time_s, spikes.get(i, s.force_n)) for i, s in enumerate(samples)]


def without(samples, *, part=0.0, gaps=(), seed=3):
    """Return the samples less a random part of them, and less those inside the gaps."""
    chance = Random(seed)  # noqa: S311 -- noise, not secrets
    return [
        sample
        for sample in samples
        if chance.random() >= part and not any(a < sample.time_s < b for a, b in gaps)
    ]


def _force(corners, t):
    for (t0, f0), (t1, f1) in pairwise(corners):
        if t <= t1:
            return f0 + (f1 - f0) * (t - t0) / (t1 - t0)
    return corners[-1][1]
