"""How fast a load rises: the slope of a line of best fit in every stretch of a few seconds.

It decides how stretches are chosen and how sure a slope is; what is too fast is decided by
`loading_rate`. A stretch never reaches over a gap of the log: what was not seen is not fitted.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from certs.rules.load_spikes import Floats

# Own decisions, as the standard names no time over which its rate is to be taken: five seconds, at
# least five readings; a stretch that had to grow beyond ten seconds hides what is shorter.
WINDOW_S: Final = 5.0
WIDEST_S: Final = 10.0
FEWEST: Final = 5

_LINE_HAS: Final = 2
# Less than any clock of a testing machine shows.
_SAME_S: Final = 1e-9

Indexes = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Rise:
    """The steepest stretch: from when to when (s), its slope in N/s and how unsure that is.

    `scatter_n` is how far readings lie off the lines (the median of all stretches, as a standard
    deviation in N), and `unsure_n_per_s` the standard error of the slope that follows from it.
    `is_wide`: some stretch had to be longer than WIDEST_S to hold enough readings.
    """

    start_s: float
    end_s: float
    n_per_s: float
    scatter_n: float
    unsure_n_per_s: float
    is_wide: bool


@dataclass(frozen=True, slots=True)
class _Lines:
    """Lines of best fit, one for each stretch of readings: `first` to `last`, both within."""

    start_s: Floats
    end_s: Floats
    slope: Floats
    spread: Floats
    scatter: Floats


def steepest(times: Floats, forces: Floats, *, gaps: Sequence[tuple[float, float]]) -> Rise | None:
    """Find where the load (N) rises fastest; None where no two readings stand together.

    `times` (s) rise strictly; `gaps` (s) are those among them, as `load_plateau` finds them.
    """
    lines = [_lines(part) for part in _seen_parts(times, forces, gaps)]
    if not lines:
        return None
    slopes = np.concatenate([line.slope for line in lines])
    starts = np.concatenate([line.start_s for line in lines])
    ends = np.concatenate([line.end_s for line in lines])
    spreads = np.concatenate([line.spread for line in lines])
    scatter = float(np.median(np.concatenate([line.scatter for line in lines])))
    top = int(np.argmax(slopes))
    return Rise(
        start_s=float(starts[top]),
        end_s=float(ends[top]),
        n_per_s=float(slopes[top]),
        scatter_n=scatter,
        unsure_n_per_s=scatter / float(spreads[top]) ** 0.5,
        is_wide=bool(np.any(ends - starts > WIDEST_S)),
    )


def _seen_parts(
    times: Floats, forces: Floats, gaps: Sequence[tuple[float, float]]
) -> Iterator[tuple[Floats, Floats]]:
    """Yield times and forces between the gaps; a reading that stands alone shows no rate."""
    cuts = np.searchsorted(times, [start for start, _ in gaps], side="right")
    for part_t, part_f in zip(np.split(times, cuts), np.split(forces, cuts), strict=True):
        if len(part_t) >= _LINE_HAS:
            yield part_t, part_f


def _lines(part: tuple[Floats, Floats]) -> _Lines:
    times, forces = part
    first, last = _stretches(times)
    # Measured from the middle: large times and forces would eat the digits of their squares.
    t, f = times - times.mean(), forces - forces.mean()
    count = last - first + 1.0
    sum_t, sum_f = _sums(t, first, last), _sums(f, first, last)
    spread = _sums(t * t, first, last) - sum_t**2 / count
    shared = _sums(t * f, first, last) - sum_t * sum_f / count
    height = _sums(f * f, first, last) - sum_f**2 / count
    slope = shared / spread
    left_over = np.maximum(height - slope * shared, 0.0)
    free = np.maximum(count - _LINE_HAS, 1.0)
    return _Lines(times[first], times[last], slope, spread, np.sqrt(left_over / free))


def _stretches(times: Floats) -> tuple[Indexes, Indexes]:
    """Return first and last index of every stretch of WINDOW_S; of a shorter part, the whole.

    Each reading begins one, as long as one fits; the last reading ends one.
    """
    last_index = len(times) - 1
    first = np.arange(len(times))
    last = np.searchsorted(times, times + WINDOW_S - _SAME_S)
    last = np.maximum(last, first + FEWEST - 1)
    fits = last <= last_index
    back = int(np.searchsorted(times, times[-1] - WINDOW_S + _SAME_S, side="right")) - 1
    back = max(0, min(back, last_index - FEWEST + 1))
    return np.append(first[fits], back), np.append(last[fits], last_index)


def _sums(values: Floats, first: Indexes, last: Indexes) -> Floats:
    sums = np.concatenate(([0.0], np.cumsum(values)))
    return np.asarray(sums[last + 1] - sums[first])
