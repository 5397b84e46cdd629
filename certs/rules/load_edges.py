"""Where a hold begins and ends within a flat run of a load trace, to the reading.

A line is fitted to the part of the run near that end (EDGE_PART of its time). The hold begins (or
ends) at the first (last) reading that lies on that line. A reading lies on it when it is below by
no more than are EDGE_SHARE of the readings of that part (somewhat more where they are FEW), or by
EDGE_FLOOR of the level where that is more. Above it EDGE_ABOVE of the level is borne: loads are put
on and taken off from below, and what lies above is an overshoot or the first of a creep, not a
ramp.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from certs.rules.load_spikes import Floats, Marks

# Own decisions, tried on synthetic logs.
EDGE_PART: Final = (0.1, 0.35)
EDGE_READINGS: Final = 40
EDGE_SHARE: Final = 0.95
FEW: Final = 10
EDGE_FLOOR: Final = 0.0005
EDGE_ABOVE: Final = 0.02
MIN_READINGS: Final = 5


@dataclass(frozen=True, slots=True)
class FlatRun:
    """A flat run of a trace, by the indexes of its first and last reading.

    `margin` is how many readings at each end may lie outside the hold.
    """

    times: Floats
    forces: Floats
    first: int
    last: int
    margin: int

    def sharp_start(self) -> int:
        """Return the index of the first reading that belongs to the hold."""
        return self.first + int(np.argmax(self._fits(*self._part(*EDGE_PART))))

    def sharp_end(self) -> int:
        """Return the index of the last reading that belongs to the hold."""
        near, far = EDGE_PART
        return self.last - int(np.argmax(self._fits(*self._part(1 - far, 1 - near))[::-1]))

    def _part(self, near: float, far: float) -> tuple[int, int]:
        """Return the half-open index range of a part of the hold, by its time.

        Where it holds too few readings for a sure line, the whole hold less its edges serves.
        """
        edge, _ = EDGE_PART
        for start, end, enough in ((near, far, EDGE_READINGS), (edge, 1 - edge, MIN_READINGS)):
            low = int(np.searchsorted(self.times, self._at(start), side="left"))
            high = int(np.searchsorted(self.times, self._at(end), side="right"))
            if high - low >= enough:
                return low, high
        return self.first, self.last + 1

    def _at(self, part: float) -> float:
        margin = min(self.margin, (self.last - self.first) // 3)
        start, end = self.times[self.first + margin], self.times[self.last - margin]
        return float(start + part * (end - start))

    def _fits(self, low: int, high: int) -> Marks:
        """Tell of each reading of the run whether it lies on the line through a part of it."""
        slope, level = line(self.times[low:high], self.forces[low:high])
        whole = slice(self.first, self.last + 1)
        middle = _mean(self.times[low:high])
        off = self.forces[whole] - level - slope * (self.times[whole] - middle)
        near = off[low - self.first : high - self.first]
        scatter = (1 + FEW / near.size) * float(np.quantile(np.abs(near), EDGE_SHARE))
        fits: Marks = (off >= -max(scatter, EDGE_FLOOR * abs(level))) & (
            off <= max(scatter, EDGE_ABOVE * abs(level))
        )
        return fits


def line(times: Floats, forces: Floats) -> tuple[float, float]:
    """Return slope (N/s) and force at the mean time of the least-squares line."""
    level = float(np.mean(forces))
    apart = times - _mean(times)
    # Summed, not np.dot: that starts threads for a long log, and waits for them on a busy machine.
    return float(np.sum(apart * (forces - level)) / np.sum(apart * apart)), level


def _mean(times: Floats) -> float:
    """Return the mean time, reckoned from the first: a clock far from nought loses no figure."""
    return float(times[0] + np.mean(times - times[0]))
