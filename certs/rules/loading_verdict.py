"""Whether a rope was loaded slowly enough above 80 % of its required force, as ISO 3108:2017 asks.

At most 0.5 % of that force per second, on the mean and over every few seconds. What noise, a gap
or too few readings hide is told as something that cannot be said. How the rates are found is
decided by `loading_rate` and `rate_window`.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Final

import numpy as np

from certs.rules.derived import Derived, plain, round_down
from certs.rules.loading_climb import Climb
from certs.rules.rate_window import Rise

# Read in ISO 3108:2017.
SLOW_PERCENT_PER_S: Final = Decimal("0.5")

# Own decision: a rate is too fast when it is so by more than four times its standard error.
SURE: Final = 4.0

# The last digits of a float are no rate.
_FLOAT_PART: Final = 1e-6
_LIMIT: Final = float(SLOW_PERCENT_PER_S) * (1 + _FLOAT_PART)
_TWO_ENDS: Final = 2**0.5

_ALLOWED: Final = f"ISO 3108:2017 allows {SLOW_PERCENT_PER_S} %."
_FAR_APART: Final = (
    "Above 80 % of the required force the readings stand so far apart that a short rise that was"
    " too fast would not show."
)
_TOO_FEW: Final = (
    "Above 80 % of the required force the log has too few readings to show how fast it rose."
)
_BEGINS_ABOVE: Final = (
    "The log begins above 80 % of the required force: how fast the load rose to its first reading"
    " cannot be said."
)


class LoadingFinding(StrEnum):
    """What a log shows of the slow part of the loading."""

    KEPT = "kept"
    EXCEEDED = "exceeded"
    CANNOT_SAY = "cannot_say"
    NOT_REACHED = "not_reached"


FINDING_WORDS: Final = {
    LoadingFinding.KEPT: "slow enough above 80 %",
    LoadingFinding.EXCEEDED: "too fast above 80 %",
    LoadingFinding.CANNOT_SAY: "cannot be said",
    LoadingFinding.NOT_REACHED: "broke before 80 % was reached",
}


@dataclass(frozen=True, slots=True)
class Rates:
    """What was found above 80 %: when it was passed (s), mean, steepest stretch, gaps (s)."""

    marked_at_s: float | None
    mean: Derived | None
    rise: Rise | None
    holes: Sequence[tuple[float, float]]


Told = tuple[LoadingFinding, str]

_WORST_FIRST: Final = (
    LoadingFinding.EXCEEDED,
    LoadingFinding.CANNOT_SAY,
    LoadingFinding.NOT_REACHED,
    LoadingFinding.KEPT,
)


def judge_rates(climb: Climb, rates: Rates) -> tuple[LoadingFinding, tuple[str, ...]]:
    """Judge the slow part of a climb: the worst finding, and a sentence for each that is not kept.

    A load that never reached 80 % of the required force has no slow part, and nothing is said.
    """
    if not climb.is_marked:
        return LoadingFinding.NOT_REACHED, ()
    told = [
        *_of_mean(climb, rates),
        _of_rise(rates.rise, climb.required_n),
        *(_of_hole(climb, hole) for hole in rates.holes),
    ]
    if rates.marked_at_s is None:
        told.append((LoadingFinding.CANNOT_SAY, _BEGINS_ABOVE))
    worst = min((finding for finding, _ in told), key=_WORST_FIRST.index)
    return worst, tuple(text for _, text in told if text)


def _of_mean(climb: Climb, rates: Rates) -> Iterator[Told]:
    """Judge the mean, less what the scatter of both ends and the step at 80 % leave unsure.

    What is unsure is left to the fastest few seconds: no mean is greater than they are.
    """
    if rates.mean is None or rates.rise is None:
        return
    percent = float(rates.mean.unrounded)
    time_s = float(Decimal(rates.mean.inputs[1].value))
    by_scatter = 100 * SURE * _TWO_ENDS * rates.rise.scatter_n / (time_s * climb.required_n)
    by_step = percent * climb.step_at(climb.mark_n) / time_s
    if percent - by_scatter - by_step > _LIMIT:
        text = (
            f"Above 80 % of the required force the load rose by {_shown(percent)} % of it per"
            f" second on the mean; {_ALLOWED}"
        )
        yield LoadingFinding.EXCEEDED, text


def _of_rise(rise: Rise | None, required_n: int) -> Told:
    """Judge the fastest few seconds: too fast by more than the scatter explains, or perhaps so."""
    if rise is None:
        return LoadingFinding.CANNOT_SAY, _TOO_FEW
    percent, unsure = (100 * n / required_n for n in (rise.n_per_s, rise.unsure_n_per_s))
    when = f"From {rise.start_s:.1f} s to {rise.end_s:.1f} s the load"
    rate = f"{_shown(percent)} % of the required force per second"
    if percent - SURE * unsure > _LIMIT:
        return LoadingFinding.EXCEEDED, f"{when} rose by {rate}; {_ALLOWED}"
    if percent > _LIMIT:
        return LoadingFinding.CANNOT_SAY, (
            f"{when} may have risen too fast: by {rate}, with a standard error of"
            f" {_shown(unsure)} %; {_ALLOWED}"
        )
    if rise.is_wide:
        return LoadingFinding.CANNOT_SAY, _FAR_APART
    return LoadingFinding.KEPT, ""


def _of_hole(climb: Climb, hole: tuple[float, float]) -> Told:
    """Judge a gap: when it ends much higher than it began, some part of it was too fast."""
    start_s, end_s = hole
    rise_n = float(np.diff(np.interp(hole, *climb.slow))[0])
    percent = 100 * rise_n / (climb.required_n * (end_s - start_s))
    text = f"The log has no readings from {start_s:.1f} s to {end_s:.1f} s"
    if percent > _LIMIT:
        return LoadingFinding.EXCEEDED, (
            f"{text}, in which the load rose by {_shown(percent)} % of the required force per"
            f" second; {_ALLOWED}"
        )
    return LoadingFinding.CANNOT_SAY, f"{text}: how fast the load rose then cannot be said."


def _shown(percent: float) -> str:
    exact = Decimal(percent)
    return plain(round_down(exact, 4)) if exact else "0"
