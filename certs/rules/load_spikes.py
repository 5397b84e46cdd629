"""Noise and spikes in a load trace: how far readings scatter, and which single ones stand out.

A spike is set aside, never mended: it is no sample of the force in the rope, but it is reported.
"""

from typing import Final

import numpy as np
from numpy.typing import NDArray

# Own decisions, tried on synthetic logs: a spike stands out by more than 1 % of the greatest
# force and more than 8 times the noise, for one or two readings.
SPIKE_FRACTION: Final = 0.01
SPIKE_SIGMAS: Final = 8.0
SPIKE_READINGS: Final = (1, 2)
# A downward one must also be over within this time (s). A load that is gone for longer may be gone
# from the rope too, and a log too slow to tell does not get the benefit.
LONGEST_DOWN_S: Final = 0.5

# For a normal distribution: standard deviation = 1.4826 x median absolute deviation, and a second
# difference scatters sqrt(1 + 4 + 1) times as much as a reading.
_SIGMA_PER_MAD: Final = 1.4826
_SECOND_DIFFERENCE: Final = 6**0.5

_WINDOW: Final = 5
_HALF: Final = _WINDOW // 2

Floats = NDArray[np.float64]
Marks = NDArray[np.bool_]


def scatter(values: Floats) -> float:
    """Return a robust standard deviation of values that should be zero."""
    return _SIGMA_PER_MAD * float(np.median(np.abs(values))) if values.size else 0.0


def noise_n(forces: Floats) -> float:
    """Return the standard deviation of the noise in N; a steady ramp does not count as noise."""
    bends = forces[2:] - 2 * forces[1:-1] + forces[:-2]
    return scatter(bends) / _SECOND_DIFFERENCE


def running_median(forces: Floats) -> Floats:
    """Return the median of each reading and its two neighbours on either side.

    It quiets noise and drops spikes, and keeps the corners of a ramp where they are. Near the ends
    of the log fewer neighbours serve: three readings, and the first and the last alone.
    """
    if forces.size < _WINDOW:
        return forces.copy()
    quiet = forces.copy()
    inner = [forces[k : forces.size - _WINDOW + 1 + k] for k in range(_WINDOW)]
    quiet[_HALF:-_HALF] = _middle_of_five(*inner)
    for at in (1, forces.size - 2):
        quiet[at] = np.median(forces[at - 1 : at + 2])
    return quiet


def find_spikes(times: Floats, forces: Floats) -> Marks:
    """Mark the readings that are spikes, upward or downward; `times` in s, `forces` in N.

    A reading is a spike when the force jumps to it and back, each jump greater than the threshold
    and than twice the step beside it. The last reading before a rope breaks is therefore none:
    the force climbed to it as it climbed before. Nor is the first or last reading of a log.
    """
    found = np.zeros(forces.size, dtype=np.bool_)
    height = float(np.max(np.abs(running_median(forces)), initial=0.0))
    threshold = max(SPIKE_FRACTION * height, SPIKE_SIGMAS * noise_n(forces))
    # Only where two neighbours differ by more than the threshold can a spike begin.
    starts = np.flatnonzero(np.abs(np.diff(forces)) > threshold) + 1
    for count in SPIKE_READINGS:
        inside = starts[starts + count < forces.size]
        up = _stand_out(forces, inside, count, threshold)
        down = _stand_out(-forces, inside, count, threshold)
        down &= times[inside + count] - times[inside - 1] <= LONGEST_DOWN_S
        at = inside[up | down]
        for k in range(count):
            found[at + k] = True
        starts = starts[~np.isin(starts, at)]
    return found


def _stand_out(forces: Floats, starts: NDArray[np.intp], count: int, threshold: float) -> Marks:
    """Tell of each start whether `count` readings stand above what is on both sides of them."""
    ends = starts + count
    low = np.minimum(forces[starts], forces[ends - 1])
    step_before = np.abs(forces[starts - 1] - forces[np.maximum(starts - 2, 0)])
    step_after = np.abs(forces[np.minimum(ends + 1, forces.size - 1)] - forces[ends])
    rise, fall = low - forces[starts - 1], low - forces[ends]
    is_out: Marks = (rise > threshold + 2 * step_before) & (fall > threshold + 2 * step_after)
    return is_out


def _middle_of_five(a: Floats, b: Floats, c: Floats, d: Floats, e: Floats) -> Floats:
    """Return the median of five, value by value: of four the middle two, with the fifth."""
    low = np.maximum(np.minimum(a, b), np.minimum(c, d))
    high = np.minimum(np.maximum(a, b), np.maximum(c, d))
    middle: Floats = np.maximum(np.minimum(low, high), np.minimum(np.maximum(low, high), e))
    return middle
