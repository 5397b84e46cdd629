"""How a rope was loaded until it broke: fast up to 80 % of the required force, slow from there.

It finds both parts of the climb in a force log, and how fast the load rose in each. Whether that
was slow enough is judged by `loading_verdict`, what it means for the test by `breaking_test`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from math import ceil, floor
from typing import Final

from certs.rules.derived import Derived, Given, Source, round_half_up, trimmed
from certs.rules.load_plateau import gaps
from certs.rules.loading_climb import FAST_UP_TO, Climb
from certs.rules.loading_verdict import FINDING_WORDS, LoadingFinding, Rates, judge_rates
from certs.rules.log_rows import Sample
from certs.rules.rate_window import Rise, steepest
from inventory.rules.canonical import JsonValue

LOADING: Final = Source("ISO 3108", "2017", "read")
RATE_FORMULA: Final = "r = 100 ΔF / (Fmin Δt)"

# Own decisions. The climb begins where the load leaves 2 % of the required force, and is over at
# 99 % of the peak, so that a hold at the top does not water the mean down.
STARTS_AT: Final = 0.02
ENDS_AT: Final = 0.99

_FIGURES: Final = 8


@dataclass(frozen=True, slots=True)
class Loading:
    """The two parts of the climb. Forces in whole N, times in s on the clock of the log.

    `mark_n` is 80 % of `required_n`. `started_at_s` and `marked_at_s` are when the climb began and
    when the mark was passed, None where the log does not show it. `fast` and `mean` are the rates
    of the two parts, `greatest` that of the fastest few seconds of the slow one (from
    `greatest_from_s` to `greatest_to_s`), all in per cent of the required force per second; None
    where the log shows none. `unseen_s` is how long the log has no readings above the mark.
    `deviations` say what was too fast and what cannot be said; `finding` sums them up.
    """

    required_n: int
    mark_n: int
    peak_n: int
    started_at_s: float | None
    marked_at_s: float | None
    peak_at_s: float
    fast: Derived | None
    mean: Derived | None
    greatest: Derived | None
    greatest_from_s: float | None
    greatest_to_s: float | None
    unseen_s: float
    finding: LoadingFinding
    deviations: tuple[str, ...]

    @property
    def slow_s(self) -> float | None:
        """How long the load took from 80 % to the peak, in s; None where it cannot be said."""
        return None if self.marked_at_s is None else self.peak_at_s - self.marked_at_s

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form that is frozen into a report: whole newtons and milliseconds."""
        return {
            "required_n": self.required_n,
            "mark_n": self.mark_n,
            "peak_n": self.peak_n,
            "started_ms": _ms(self.started_at_s),
            "marked_ms": _ms(self.marked_at_s),
            "peak_ms": _ms(self.peak_at_s),
            "slow_ms": _ms(self.slow_s),
            "unseen_ms": _ms(self.unseen_s),
            "greatest_from_ms": _ms(self.greatest_from_s),
            "greatest_to_ms": _ms(self.greatest_to_s),
            "fast": self.fast.as_json() if self.fast else None,
            "mean": self.mean.as_json() if self.mean else None,
            "greatest": self.greatest.as_json() if self.greatest else None,
            "finding": self.finding.value,
            "finding_text": FINDING_WORDS[self.finding],
            "deviations": list(self.deviations),
        }


def loading_of(samples: Sequence[Sample], *, required_n: int) -> Loading:
    """Find how a rope was loaded; `samples` in strictly rising order of time.

    `required_n` is the force in N that the rope had to reach. ISO 3108:2017. Raises `Refusal` for
    an empty log.
    """
    climb = Climb.of(samples, required_n=required_n)
    marked_at_s = climb.passed_at(climb.mark_n)
    slow_times, slow_forces = climb.slow
    holes = gaps(slow_times)
    rise = steepest(slow_times, slow_forces, gaps=holes)
    mean = _mean(climb, marked_at_s)
    finding, deviations = judge_rates(climb, Rates(marked_at_s, mean, rise, holes))
    return Loading(
        required_n=required_n,
        mark_n=ceil(FAST_UP_TO * required_n),
        peak_n=floor(climb.peak_n),
        started_at_s=climb.passed_at(STARTS_AT * required_n),
        marked_at_s=marked_at_s,
        peak_at_s=climb.peak_at_s,
        fast=_fast(climb, marked_at_s),
        mean=mean,
        greatest=_greatest(rise, required_n) if rise else None,
        greatest_from_s=rise.start_s if rise else None,
        greatest_to_s=rise.end_s if rise else None,
        unseen_s=sum(end - start for start, end in holes),
        finding=finding,
        deviations=deviations,
    )


def _fast(climb: Climb, marked_at_s: float | None) -> Derived | None:
    start_n = STARTS_AT * climb.required_n
    started_at_s = climb.passed_at(start_n)
    if marked_at_s is None or started_at_s is None:
        return None
    return _rate(
        "mean rate of loading up to 80 % of the required force",
        rise_n=climb.mark_n - start_n,
        time_s=marked_at_s - started_at_s,
        required_n=climb.required_n,
        basis="from 2 % to 80 % of the required force",
    )


def _mean(climb: Climb, marked_at_s: float | None) -> Derived | None:
    """Give the mean rate of the slow part; a peak hardly above the mark shows none."""
    end_n = ENDS_AT * climb.peak_n
    ended_at_s = climb.passed_at(end_n)
    if marked_at_s is None or ended_at_s is None or ended_at_s <= marked_at_s:
        return None
    return _rate(
        "mean rate of loading above 80 % of the required force",
        rise_n=end_n - climb.mark_n,
        time_s=ended_at_s - marked_at_s,
        required_n=climb.required_n,
        basis="from 80 % of the required force to 99 % of the peak",
    )


def _greatest(rise: Rise, required_n: int) -> Derived:
    time_s = rise.end_s - rise.start_s
    return _rate(
        "greatest rate of loading above 80 % of the required force",
        rise_n=rise.n_per_s * time_s,
        time_s=time_s,
        required_n=required_n,
        basis=f"line of best fit from {rise.start_s:.1f} s to {rise.end_s:.1f} s",
        remarks=(_unsure(rise, required_n),),
    )


def _unsure(rise: Rise, required_n: int) -> str:
    percent = round(100 * rise.unsure_n_per_s / required_n, 4)
    return f"Standard error from the scatter of the readings: {percent:.4f} % per s."


def _rate(
    quantity: str,
    *,
    rise_n: float,
    time_s: float,
    required_n: int,
    basis: str,
    remarks: tuple[str, ...] = (),
) -> Derived:
    rise, time = _figures(rise_n), _figures(time_s)
    unrounded = 100 * rise / (required_n * time)
    return Derived(
        quantity=quantity,
        symbol="r",
        formula=RATE_FORMULA,
        inputs=(
            Given("ΔF", f"rise of the load, {basis}", trimmed(rise), "N"),
            Given("Δt", "time of that rise", trimmed(time), "s"),
            Given("Fmin", "required breaking force", str(required_n), "N"),
        ),
        source=LOADING,
        unrounded=unrounded,
        stated=round_half_up(unrounded) if unrounded else unrounded,
        unit="% per s",
        rounding="three significant figures, half up",
        basis=basis,
        remarks=remarks,
    )


def _ms(time_s: float | None) -> int | None:
    return None if time_s is None else round(time_s * 1000)


def _figures(value: float) -> Decimal:
    exact = Decimal(value)
    return round_half_up(exact, _FIGURES) if exact else Decimal(0)
