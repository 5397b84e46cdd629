"""Where a quieted load trace stays within one band: runs of readings, by index.

Whether such a run is a hold or a slow ramp, and where exactly it begins, is decided by
`load_plateau`.
"""

from collections import deque
from dataclasses import dataclass
from typing import Final, Self

import numpy as np
from numpy.typing import NDArray

from certs.rules.load_spikes import Floats

# Own decisions, tried on synthetic logs: the width of the band as a part of its greatest force,
# and how long a run must last.
BAND: Final = 0.05
MIN_HOLD_S: Final = 2.0

_CHUNK: Final = 4096

Run = tuple[int, int]


def flat_runs(times: Floats, forces: Floats, *, floor_n: float) -> list[Run]:
    """Return half-open index ranges of flat runs, the longest first, then those beside it.

    Only runs that stay at or above `floor_n` and last MIN_HOLD_S count.
    """
    if floor_n <= 0:
        return []
    windows = _Windows.of(times, forces, floor_n=floor_n)
    runs: list[Run] = []
    waiting = [(0, forces.size)]
    while waiting:
        low, high = waiting.pop()
        start, end = windows.longest(low, high)
        if end - start and times[end - 1] - times[start] >= MIN_HOLD_S:
            runs.append((start, end))
            waiting += [(low, start), (end, high)]
    return runs


def reach(forces: Floats, low: int, high: int, *, later: bool) -> Run:
    """Return the run made longer on one side while its forces stay in one band."""
    least, greatest = float(np.min(forces[low:high])), float(np.max(forces[low:high]))
    beyond = forces[high:] if later else forces[:low][::-1]
    count = 0
    # In chunks, so that a short run in a long log costs little.
    for at in range(0, beyond.size, _CHUNK):
        lows = np.minimum(np.minimum.accumulate(beyond[at : at + _CHUNK]), least)
        highs = np.maximum(np.maximum.accumulate(beyond[at : at + _CHUNK]), greatest)
        out = lows < (1 - BAND) * highs
        if out.any():
            count = at + int(np.argmax(out))
            break
        count = at + lows.size
        least, greatest = float(lows[-1]), float(highs[-1])
    return (low, high + count) if later else (low - count, high)


@dataclass(frozen=True, slots=True)
class _Windows:
    """For each value the first of the longest window that ends with it and stays in the band.

    `low_at` is the last value, up to each, that lies below the floor.
    """

    times: Floats
    starts: NDArray[np.intp]
    low_at: NDArray[np.intp]

    @classmethod
    def of(cls, times: Floats, forces: Floats, *, floor_n: float) -> Self:
        """Slide a window whose greatest and least stay within the band."""
        values: list[float] = forces.tolist()
        falling: deque[int] = deque()  # indexes of candidates for the greatest value
        rising: deque[int] = deque()  # and for the least
        starts, start = [], 0
        for i, value in enumerate(values):
            while falling and values[falling[-1]] <= value:
                falling.pop()
            while rising and values[rising[-1]] >= value:
                rising.pop()
            falling.append(i)
            rising.append(i)
            while values[rising[0]] < (1 - BAND) * values[falling[0]]:
                start = min(falling[0], rising[0]) + 1
                (falling if falling[0] < start else rising).popleft()
            starts.append(start)
        places = np.arange(forces.size, dtype=np.intp)
        low_at = np.maximum.accumulate(np.where(forces < floor_n, places, -1))
        return cls(times, np.array(starts, dtype=np.intp), low_at)

    def longest(self, low: int, high: int) -> Run:
        """Return the longest window within a range, the first of equals; (low, low) for none."""
        starts = np.maximum(self.starts[low:high], low)
        lasts = self.times[low:high] - self.times[starts]
        lasts[self.low_at[low:high] >= starts] = -1.0
        if not lasts.size or lasts.max() < 0:
            return low, low
        end = int(np.argmax(lasts))
        return int(starts[end]), low + end + 1
