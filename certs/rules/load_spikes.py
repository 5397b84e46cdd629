"""Noise and spikes in a load trace: how far readings scatter, and which single ones stand out.

A spike is set aside, never mended: it is no sample of the force in the rope, but it is reported.
"""

from collections.abc import Sequence
from itertools import pairwise
from statistics import median
from typing import Final

# Own decisions, tried on synthetic logs: a spike stands out by more than 1 % of the greatest
# force and more than 8 times the noise, for one or two readings.
SPIKE_FRACTION: Final = 0.01
SPIKE_SIGMAS: Final = 8.0
SPIKE_READINGS: Final = (1, 2)

# For a normal distribution: standard deviation = 1.4826 x median absolute deviation, and a second
# difference scatters sqrt(1 + 4 + 1) times as much as a reading.
_SIGMA_PER_MAD: Final = 1.4826
_SECOND_DIFFERENCE: Final = 6**0.5

_WINDOW: Final = 5
_HALF: Final = _WINDOW // 2


def scatter(values: Sequence[float]) -> float:
    """Return a robust standard deviation of values that should be zero."""
    return _SIGMA_PER_MAD * median(map(abs, values)) if values else 0.0


def noise_n(forces: Sequence[float]) -> float:
    """Return the standard deviation of the noise in N; a steady ramp does not count as noise."""
    bends = [c - 2 * b + a for a, b, c in zip(forces, forces[1:], forces[2:], strict=False)]
    return scatter(bends) / _SECOND_DIFFERENCE


def running_median(forces: Sequence[float]) -> list[float]:
    """Return the median of each reading and its two neighbours on either side.

    It quiets noise and drops spikes, and keeps the corners of a ramp where they are.
    """
    if len(forces) < _WINDOW:
        return list(forces)
    inner = [
        sorted(forces[i - _HALF : i + _HALF + 1])[_HALF] for i in range(_HALF, len(forces) - _HALF)
    ]
    return [inner[0]] * _HALF + inner + [inner[-1]] * _HALF


def find_spikes(forces: Sequence[float]) -> frozenset[int]:
    """Return the indexes of the readings that are spikes, upward or downward.

    A reading is a spike when the force jumps to it and back, each jump greater than the threshold
    and than twice the step beside it. The last reading before a rope breaks is therefore none:
    the force climbed to it as it climbed before. Nor is the first or last reading of a log.
    """
    height = max(running_median(forces), key=abs, default=0.0)
    threshold = max(SPIKE_FRACTION * abs(height), SPIKE_SIGMAS * noise_n(forces))
    mirrored = [-force for force in forces]
    # Only where two neighbours differ by more than the threshold can a spike begin.
    jumps = [i for i, (a, b) in enumerate(pairwise(forces), 1) if abs(b - a) > threshold]
    found: set[int] = set()
    for start in jumps:
        for count in SPIKE_READINGS:
            if any(_stands_out(side, start, count, threshold) for side in (forces, mirrored)):
                found.update(range(start, start + count))
                break
    return frozenset(found)


def _stands_out(forces: Sequence[float], start: int, count: int, threshold: float) -> bool:
    """Tell whether `count` readings from `start` stand above what is on both sides of them."""
    end = start + count
    if end >= len(forces):
        return False
    low = min(forces[start:end])
    step_before = abs(forces[start - 1] - forces[max(start - 2, 0)])
    step_after = abs(forces[min(end + 1, len(forces) - 1)] - forces[end])
    rise, fall = low - forces[start - 1], low - forces[end]
    return rise > threshold + 2 * step_before and fall > threshold + 2 * step_after
