"""What a force log shows: its peak, its holds, its rate, and what is wrong with it.

All of it is found from the readings. How holds are found is told in `load_plateau`, how spikes are
in `load_spikes`; whether what is found is enough is decided by `proof_test` and `breaking_test`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from math import floor
from typing import Final

import numpy as np

from certs.rules.load_plateau import Plateau, find_plateaus, gap_after, gaps
from certs.rules.load_spikes import Floats, find_spikes, noise_n
from certs.rules.log_rows import Sample
from inventory.rules.refusal import Refusal

# Of the flat stretches at or above this part of the highest, the longest is the main one.
MAIN_FRACTION: Final = 0.9

# Loading is fast up to 80 % of the required force and slow from there (ISO 3108:2017); the climb
# counts as over at 99 % of the peak, so that a hold does not water the rate down.
RATE_FROM: Final = 0.8
RATE_TO: Final = 0.99


@dataclass(frozen=True, slots=True)
class LoadFindings:
    """What was found. Forces in whole N rounded down, times in s on the clock of the log.

    `least_n` is the least reading without spikes; below nought it is 0.
    `peak_n` is the greatest reading without spikes, `raw_peak_n` with them. `plateau` is the main
    one of `plateaus`. `rate_n_per_s` is the mean rate from 80 % of the target (without one: of the
    peak) to the peak; None where the log does not show it. `time_at_or_above_target_s` is the whole
    and `longest_at_or_above_target_s` the longest unbroken time at or above `target_n`.
    """

    least_n: int
    peak_n: int
    peak_at_s: float
    raw_peak_n: int
    plateau: Plateau | None
    plateaus: tuple[Plateau, ...]
    rate_n_per_s: float | None
    noise_n: float
    spikes: tuple[Sample, ...]
    gaps: tuple[tuple[float, float], ...]
    target_n: int | None
    time_at_or_above_target_s: float | None
    longest_at_or_above_target_s: float | None


def analyse(samples: Sequence[Sample], *, target_n: int | None = None) -> LoadFindings:
    """Find what a log shows; `samples` in strictly rising order of time, as `read_log` gives them.

    `target_n` changes only the last figures and where the rate is taken: never peak or plateau.
    Raises `Refusal` for an empty log.
    """
    if not samples:
        message = "A log without readings shows nothing."
        raise Refusal(message, field="log")
    times, forces = _columns(samples)
    is_spike = find_spikes(times, forces)
    kept_at, kept = times[~is_spike], forces[~is_spike]
    peak = int(np.argmax(kept))
    plateaus = find_plateaus(kept_at, kept)
    runs = None if target_n is None else _runs_at_or_above(kept_at, kept, target_n)
    return LoadFindings(
        least_n=max(0, floor(np.min(kept))),
        peak_n=floor(kept[peak]),
        peak_at_s=float(kept_at[peak]),
        raw_peak_n=floor(np.max(forces)),
        plateau=_main(plateaus),
        plateaus=plateaus,
        rate_n_per_s=_rate(kept_at, kept, target_n),
        noise_n=noise_n(kept),
        spikes=tuple(samples[int(i)] for i in np.flatnonzero(is_spike)),
        gaps=gaps(times),
        target_n=target_n,
        time_at_or_above_target_s=None if runs is None else sum(runs),
        longest_at_or_above_target_s=None if runs is None else max(runs, default=0.0),
    )


def thin(samples: Sequence[Sample], points: int = 400) -> tuple[Sample, ...]:
    """Return at most `points` (4 or more) samples for drawing.

    The first, the last and every extreme remain: of each stretch its least and its greatest.
    """
    if len(samples) <= points:
        return tuple(samples)
    inner = samples[1:-1]
    stretches = max(1, (points - 2) // 2)
    kept = [samples[0]]
    for k in range(stretches):
        part = inner[k * len(inner) // stretches : (k + 1) * len(inner) // stretches]
        kept += sorted({_lowest(part), _highest(part)})
    return (*kept, samples[-1])


def _lowest(samples: Sequence[Sample]) -> Sample:
    return min(samples, key=lambda sample: sample.force_n)


def _highest(samples: Sequence[Sample]) -> Sample:
    return max(samples, key=lambda sample: sample.force_n)


def _main(plateaus: Sequence[Plateau]) -> Plateau | None:
    highest = max((plateau.level_n for plateau in plateaus), default=0)
    high = [plateau for plateau in plateaus if plateau.level_n >= MAIN_FRACTION * highest]
    return max(high, key=lambda plateau: plateau.hold_s, default=None)


def _columns(samples: Sequence[Sample]) -> tuple[Floats, Floats]:
    """Return times and forces, each in one array."""
    both = np.fromiter(chain.from_iterable(samples), dtype=np.float64, count=2 * len(samples))
    return both[::2].copy(), both[1::2].copy()


def _runs_at_or_above(times: Floats, forces: Floats, target_n: int) -> list[float]:
    """Return how long (s) each unbroken run of readings at or above the target lasts.

    A gap in the log breaks a run: what was not seen is not counted.
    """
    is_high = forces >= target_n
    counts = is_high[:-1] & is_high[1:] & ~gap_after(times)
    turns = np.diff(counts.astype(np.int8), prepend=0, append=0)
    starts, ends = np.flatnonzero(turns > 0), np.flatnonzero(turns < 0)
    return [float(times[end] - times[start]) for start, end in zip(starts, ends, strict=True)]


def _rate(times: Floats, forces: Floats, target_n: int | None) -> float | None:
    """Return the mean rate in N/s between the first readings at the two marks of the climb."""
    peak_n = float(np.max(forces))
    from_n = RATE_FROM * (peak_n if target_n is None else target_n)
    to_n = RATE_TO * peak_n
    if not 0 < from_n < to_n:
        return None
    start, end = int(np.argmax(forces >= from_n)), int(np.argmax(forces >= to_n))
    if end == start:
        return None
    return float((forces[end] - forces[start]) / (times[end] - times[start]))
