"""Where a load trace stands still: the flat stretches of a force log, found from the data alone.

How one is found, in order:

1. The readings are quieted by a running median of five, and in a long log also by blocks, so that
   about ten thousand values remain.
2. A flat stretch is the longest run of values that stay within BAND of their greatest; then the
   longest run left of it and right of it, and so on, while it lasts MIN_HOLD_S and MIN_READINGS.
   Only values of at least MIN_HEIGHT of the greatest force count.
3. Each end is sharpened: a line is fitted to the nearby part of the hold (EDGE_PART of its time),
   and the hold begins (or ends) at the first (last) reading that lies within EDGE_SIGMAS of its
   scatter, or within EDGE_FLOOR of its level where that is more.
4. A stretch whose line of best fit climbs or falls through more than MAX_DRIFT of the band is a
   slow ramp, not a hold, and is dropped.

So noise, slow drift, spikes, missing readings and uneven steps of time are borne. Steps smaller
than BAND are part of one hold, whose lowest force is then that of the lowest step.
"""

from bisect import bisect, bisect_left
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor
from statistics import fmean, median, pstdev
from typing import Final

from certs.rules.load_spikes import running_median
from certs.rules.log_rows import Sample

# Own decisions, tried on synthetic logs.
BAND: Final = 0.05
MIN_HOLD_S: Final = 2.0
MIN_READINGS: Final = 5
MIN_HEIGHT: Final = 0.2
MAX_DRIFT: Final = 0.75
EDGE_SIGMAS: Final = 5.0
EDGE_FLOOR: Final = 0.002
EDGE_PART: Final = (0.1, 0.35)
EDGE_READINGS: Final = 40

# A gap is a time without readings that is long against the usual step and long in itself.
GAP_STEPS: Final = 10
GAP_S: Final = 1.0

_MAX_VALUES: Final = 10_000


@dataclass(frozen=True, slots=True)
class Plateau:
    """A steady load: from, to and how long (s), its median and its lowest force (N, rounded down).

    `unseen_s` is the part of `hold_s` in which the log has no readings.
    """

    start_s: float
    end_s: float
    hold_s: float
    level_n: int
    lowest_n: int
    unseen_s: float


def find_plateaus(samples: Sequence[Sample]) -> tuple[Plateau, ...]:
    """Return the flat stretches in order of time; `samples` hold no spikes, times increase."""
    forces = running_median([sample.force_n for sample in samples])
    times = [sample.time_s for sample in samples]
    block = 1 + len(forces) // _MAX_VALUES
    # A force below zero is noise of the empty machine, and the band has no meaning for it.
    coarse = [max(0.0, median(forces[i : i + block])) for i in range(0, len(forces), block)]
    floor_n = MIN_HEIGHT * max(coarse, default=0.0)
    found = []
    for low, high in _flat_runs(times[::block], coarse, floor_n=floor_n):
        # A block that is part ramp, part hold may have been left out: look one block further.
        first = max(0, (low - 1) * block + 1)
        last = min((high + 1) * block - 1, len(samples)) - 1
        trace = _Trace(times, forces, first, last, margin=2 * (block - 1))
        start, end = trace.sharp_start(), trace.sharp_end() + 1
        if end - start >= MIN_READINGS and not _is_ramp(times, forces, start, end):
            found.append(_measure(samples[start:end]))
    return tuple(sorted(found, key=lambda plateau: plateau.start_s))


def usual_step_s(times: Sequence[float]) -> float:
    """Return the median step of time in s; 0 for fewer than two readings."""
    return median([b - a for a, b in pairwise(times)]) if len(times) > 1 else 0.0


def gaps(times: Sequence[float]) -> tuple[tuple[float, float], ...]:
    """Return from when to when (s) the log has no readings although it should."""
    least = max(GAP_S, GAP_STEPS * usual_step_s(times))
    return tuple((a, b) for a, b in pairwise(times) if b - a > least)


def _flat_runs(
    times: Sequence[float], forces: Sequence[float], *, floor_n: float
) -> list[tuple[int, int]]:
    """Return half-open index ranges of flat runs, the longest first, then those beside it."""
    runs: list[tuple[int, int]] = []
    waiting = [(0, len(forces))] if floor_n > 0 else []
    while waiting:
        low, high = waiting.pop()
        start, end = _longest_run(times, forces, low, high, floor_n)
        if end - start and times[end - 1] - times[start] >= MIN_HOLD_S:
            runs.append((start, end))
            waiting += [(low, start), (end, high)]
    return runs


def _longest_run(
    times: Sequence[float], forces: Sequence[float], low: int, high: int, floor_n: float
) -> tuple[int, int]:
    """Slide a window whose greatest and least stay within the band; (low, low) when none does."""
    best, longest = (low, low), -1.0
    falling: deque[int] = deque()  # indexes of candidates for the greatest value
    rising: deque[int] = deque()  # and for the least
    start = low
    for i in range(low, high):
        while falling and forces[falling[-1]] <= forces[i]:
            falling.pop()
        while rising and forces[rising[-1]] >= forces[i]:
            rising.pop()
        falling.append(i)
        rising.append(i)
        while forces[rising[0]] < (1 - BAND) * forces[falling[0]]:
            start = min(falling[0], rising[0]) + 1
            (falling if falling[0] < start else rising).popleft()
        if forces[rising[0]] >= floor_n and times[i] - times[start] > longest:
            best, longest = (start, i + 1), times[i] - times[start]
    return best


def _is_ramp(times: Sequence[float], forces: Sequence[float], low: int, high: int) -> bool:
    """Tell whether a run leads steadily through the band.

    What is judged is the run as far as the band lets it reach, to one side first and to the other:
    a run beside a longer one, or beside a sudden drop, may have been cut short by it.
    """
    for later in (True, False):
        start, end = _reach(forces, low, high, later=later)
        start, end = _reach(forces, start, end, later=not later)
        slope, _ = _line(times[start:end], forces[start:end])
        change = abs(slope) * (times[end - 1] - times[start])
        if change > MAX_DRIFT * BAND * max(forces[start:end]):
            return True
    return False


def _reach(forces: Sequence[float], low: int, high: int, *, later: bool) -> tuple[int, int]:
    """Return the run made longer on one side while its forces stay in one band."""
    least, greatest = min(forces[low:high]), max(forces[low:high])
    beyond = range(high, len(forces)) if later else range(low - 1, -1, -1)
    for i in beyond:
        least, greatest = min(least, forces[i]), max(greatest, forces[i])
        if least < (1 - BAND) * greatest:
            break
        low, high = min(low, i), max(high, i + 1)
    return low, high


def _line(times: Sequence[float], forces: Sequence[float]) -> tuple[float, float]:
    """Return slope (N/s) and force at the mean time of the least-squares line."""
    middle, level = fmean(times), fmean(forces)
    spread = sum((time - middle) ** 2 for time in times)
    rise = sum((time - middle) * (force - level) for time, force in zip(times, forces, strict=True))
    return rise / spread, level


@dataclass(frozen=True, slots=True)
class _Trace:
    """A flat run of a quieted trace, by the indexes of its first and last reading.

    `margin` is how many readings at each end may lie outside the hold.
    """

    times: Sequence[float]
    forces: Sequence[float]
    first: int
    last: int
    margin: int

    def sharp_start(self) -> int:
        """Return the index of the first reading that belongs to the hold."""
        fits = self._fits(*self._part(*EDGE_PART))
        return next((i for i in range(self.first, self.last) if fits[i - self.first]), self.first)

    def sharp_end(self) -> int:
        """Return the index of the last reading that belongs to the hold."""
        near, far = EDGE_PART
        fits = self._fits(*self._part(1 - far, 1 - near))
        return next(
            (i for i in range(self.last, self.first, -1) if fits[i - self.first]), self.last
        )

    def _part(self, near: float, far: float) -> tuple[int, int]:
        """Return the half-open index range of a part of the hold, by its time.

        Where it holds too few readings for a sure line, the whole hold less its edges serves.
        """
        edge, _ = EDGE_PART
        for start, end, enough in ((near, far, EDGE_READINGS), (edge, 1 - edge, MIN_READINGS)):
            low, high = bisect_left(self.times, self._at(start)), bisect(self.times, self._at(end))
            if high - low >= enough:
                return low, high
        return self.first, self.last + 1

    def _at(self, part: float) -> float:
        margin = min(self.margin, (self.last - self.first) // 3)
        start, end = self.times[self.first + margin], self.times[self.last - margin]
        return start + part * (end - start)

    def _fits(self, low: int, high: int) -> list[bool]:
        """Tell of each reading of the run whether it lies on the line through a part of it."""
        slope, level = _line(self.times[low:high], self.forces[low:high])
        middle = fmean(self.times[low:high])
        off = [
            self.forces[i] - level - slope * (self.times[i] - middle)
            for i in range(self.first, self.last + 1)
        ]
        near = off[low - self.first : high - self.first]
        limit = max(EDGE_SIGMAS * pstdev(near), EDGE_FLOOR * abs(level))
        return [abs(value) <= limit for value in off]


def _measure(samples: Sequence[Sample]) -> Plateau:
    times = [sample.time_s for sample in samples]
    forces = [sample.force_n for sample in samples]
    return Plateau(
        start_s=times[0],
        end_s=times[-1],
        hold_s=times[-1] - times[0],
        level_n=floor(median(forces)),
        lowest_n=floor(min(forces)),
        unseen_s=sum(b - a for a, b in gaps(times)),
    )
