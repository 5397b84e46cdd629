"""Where a load trace stands still: the flat stretches of a force log, found from the data alone.

How one is found, in order:

1. The readings are quieted by a running median of five, and in a long log also by blocks, so that
   about ten thousand values remain.
2. A flat stretch is the longest run of values that stay within BAND of their greatest; then the
   longest run left of it and right of it, and so on, while it lasts MIN_HOLD_S and MIN_READINGS
   (`load_runs`). Only values of at least MIN_HEIGHT of the greatest force count.
3. Each end is sharpened to the reading (`load_edges`).
4. A stretch whose line of best fit climbs or falls through more than MAX_DRIFT of the band is a
   slow ramp, not a hold, and is dropped. So is a stretch that noise has cut out of a ramp: the load
   goes the same way before it and after it, and within it by half that rate or more, as far as its
   scatter lets one say.

So noise, slow drift, spikes, missing readings and uneven steps of time are borne. Steps smaller
than BAND are part of one hold, whose lowest force is then that of the lowest step.
"""

from dataclasses import dataclass
from math import floor
from typing import Final

import numpy as np

from certs.rules.load_edges import MIN_READINGS, FlatRun, line
from certs.rules.load_runs import BAND, flat_runs, reach
from certs.rules.load_spikes import Floats, Marks, running_median

# Own decisions, tried on synthetic logs.
MIN_HEIGHT: Final = 0.4
MAX_DRIFT: Final = 0.75
LEAST_PASSED: Final = 0.4
LEAST_RATE: Final = 0.5
SIDE_S: Final = 6.0

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


def find_plateaus(times: Floats, forces: Floats) -> tuple[Plateau, ...]:
    """Return the flat stretches in order of time; no reading is a spike, times (s) increase."""
    quiet = running_median(forces)
    block = 1 + quiet.size // _MAX_VALUES
    # A force below zero is noise of the empty machine, and the band has no meaning for it.
    coarse = np.maximum(_block_medians(quiet, block), 0.0)
    floor_n = MIN_HEIGHT * float(np.max(coarse, initial=0.0))
    found = []
    for low, high in flat_runs(times[::block], coarse, floor_n=floor_n):
        # A block that is part ramp, part hold may have been left out: look one block further.
        first = max(0, (low - 1) * block + 1)
        last = min((high + 1) * block - 1, quiet.size) - 1
        run = FlatRun(times, forces, first, last, margin=2 * (block - 1))
        start, end = run.sharp_start(), run.sharp_end() + 1
        if end - start < MIN_READINGS or _drifts(times, forces, start, end):
            continue
        if not _is_ramp(times, quiet, start, end) and not _is_cut_out(times, quiet, start, end):
            found.append(_measure(times[start:end], forces[start:end]))
    return tuple(sorted(found, key=lambda plateau: plateau.start_s))


def usual_step_s(times: Floats) -> float:
    """Return the median step of time in s; 0 for fewer than two readings."""
    return float(np.median(np.diff(times))) if times.size > 1 else 0.0


def gaps(times: Floats) -> tuple[tuple[float, float], ...]:
    """Return from when to when (s) the log has no readings although it should."""
    at = np.flatnonzero(gap_after(times))
    return tuple((float(times[i]), float(times[i + 1])) for i in at)


def gap_after(times: Floats) -> Marks:
    """Tell of each reading but the last whether a gap follows it."""
    least = max(GAP_S, GAP_STEPS * usual_step_s(times))
    follows: Marks = np.diff(times) > least
    return follows


def _block_medians(forces: Floats, block: int) -> Floats:
    """Return the median of each block of readings; the last block may be shorter."""
    if block == 1:
        return forces
    whole = forces.size // block * block
    medians = np.median(forces[:whole].reshape(-1, block), axis=1)
    rest = forces[whole:]
    return np.append(medians, np.median(rest)) if rest.size else medians


def _is_ramp(times: Floats, forces: Floats, low: int, high: int) -> bool:
    """Tell whether a run leads steadily through the band.

    What is judged is the run as far as the band lets it reach, to one side first and to the other:
    a run beside a longer one, or beside a sudden drop, may have been cut short by it.
    """
    for later in (True, False):
        start, end = reach(forces, low, high, later=later)
        start, end = reach(forces, start, end, later=not later)
        if _drifts(times, forces, start, end):
            return True
    return False


def _drifts(times: Floats, forces: Floats, low: int, high: int) -> bool:
    """Tell whether the line through a run climbs or falls through most of the band."""
    slope, _ = line(times[low:high], forces[low:high])
    change = abs(slope) * float(times[high - 1] - times[low])
    return change > MAX_DRIFT * BAND * float(np.max(forces[low:high]))


def _is_cut_out(times: Floats, forces: Floats, low: int, high: int) -> bool:
    """Tell whether a run is a part of a ramp, by the load on either side of it.

    The loads on either side must lie LEAST_PASSED of the band apart.
    """
    lasts_s = float(times[high - 1] - times[low])
    side_s = max(lasts_s, SIDE_S)
    before = forces[np.searchsorted(times, times[low] - side_s) : low]
    after = forces[high : np.searchsorted(times, times[high - 1] + side_s, side="right")]
    if not before.size or not after.size:
        return False
    slope, level = line(times[low:high], forces[low:high])
    came_n, went_n = level - float(np.median(before)), float(np.median(after)) - level
    passed_n = came_n + went_n
    if came_n * went_n <= 0 or abs(passed_n) < LEAST_PASSED * BAND * level:
        return False
    apart = times[low:high] - times[low]
    unsure = float(np.std(forces[low:high] - slope * apart)) / float(np.std(apart))
    surely = slope * np.sign(passed_n) + 2 * unsure / (high - low) ** 0.5
    return bool(surely >= LEAST_RATE * abs(passed_n) / (lasts_s + side_s))


def _measure(times: Floats, forces: Floats) -> Plateau:
    start_s, end_s = float(times[0]), float(times[-1])
    return Plateau(
        start_s=start_s,
        end_s=end_s,
        hold_s=end_s - start_s,
        level_n=floor(float(np.median(forces))),
        lowest_n=floor(float(np.min(forces))),
        unseen_s=sum(b - a for a, b in gaps(times)),
    )
