"""What a force log shows: its peak, its holds, its rate, and what is wrong with it.

All of it is found from the readings. How holds are found is told in `load_plateau`, how spikes are
in `load_spikes`; whether what is found is enough is decided by `proof_test` and `breaking_test`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import floor
from typing import Final

from certs.rules.load_plateau import Plateau, find_plateaus, gaps
from certs.rules.load_spikes import find_spikes, noise_n
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

    `peak_n` is the greatest reading without spikes, `raw_peak_n` with them. `plateau` is the main
    one of `plateaus`. `rate_n_per_s` is the mean rate from 80 % of the target (without one: of the
    peak) to the peak; None where the log does not show it. `time_at_or_above_target_s` is the whole
    and `longest_at_or_above_target_s` the longest unbroken time at or above `target_n`.
    """

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
    at_spike = find_spikes([sample.force_n for sample in samples])
    kept = [sample for i, sample in enumerate(samples) if i not in at_spike]
    peak = max(kept, key=lambda sample: sample.force_n)
    plateaus = find_plateaus(kept)
    runs = None if target_n is None else _runs_at_or_above(kept, target_n)
    return LoadFindings(
        peak_n=floor(peak.force_n),
        peak_at_s=peak.time_s,
        raw_peak_n=floor(max(sample.force_n for sample in samples)),
        plateau=_main(plateaus),
        plateaus=plateaus,
        rate_n_per_s=_rate(kept, peak.force_n, target_n),
        noise_n=noise_n([sample.force_n for sample in kept]),
        spikes=tuple(samples[i] for i in sorted(at_spike)),
        gaps=gaps([sample.time_s for sample in samples]),
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


def _runs_at_or_above(samples: Sequence[Sample], target_n: int) -> list[float]:
    """Return how long (s) each unbroken run of readings at or above the target lasts.

    A gap in the log breaks a run: what was not seen is not counted.
    """
    unseen = {start for start, _ in gaps([sample.time_s for sample in samples])}
    runs = [0.0]
    for before, after in pairwise(samples):
        if min(before.force_n, after.force_n) >= target_n and before.time_s not in unseen:
            runs[-1] += after.time_s - before.time_s
        elif runs[-1]:
            runs.append(0.0)
    return runs


def _rate(samples: Sequence[Sample], peak_n: float, target_n: int | None) -> float | None:
    """Return the mean rate in N/s between the first readings at the two marks of the climb."""
    from_n = RATE_FROM * (peak_n if target_n is None else target_n)
    to_n = RATE_TO * peak_n
    if not 0 < from_n < to_n:
        return None
    start = next(sample for sample in samples if sample.force_n >= from_n)
    end = next(sample for sample in samples if sample.force_n >= to_n)
    if end.time_s == start.time_s:
        return None
    return (end.force_n - start.force_n) / (end.time_s - start.time_s)
