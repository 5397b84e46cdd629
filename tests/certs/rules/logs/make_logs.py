"""Make the adversarial force logs beside this file, and the table that tells the truth of each.

Run it to write them anew: the same seeds give the same bytes. Every log is built from the corners
of its load, so where each hold begins and ends is known before any rule has looked at it. What is
then done to it (noise, spikes, lost readings, a coarse display) is what a bench does to a log.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from math import exp, pi, sin
from pathlib import Path
from random import Random

Shape = Callable[[float], float]
Span = tuple[float, float]

LEVEL = 50_000.0
# Five seconds unloaded, ten seconds up, thirty seconds held, three seconds down, five unloaded.
HOLD = (15.0, 45.0)
ENDS_S = 53.0


@dataclass(frozen=True)
class Log:
    """One log: its load (N at s), the holds in it, the main one first, and how far each may err."""

    name: str
    told: str
    shape: Shape
    holds: tuple[Span, ...] = (HOLD,)
    tolerance_s: float = 0.2
    until_s: float = ENDS_S
    step_s: float = 0.1
    noise_n: float = 0.0
    display_n: float = 1.0
    late: float = 0.0
    lost: float = 0.0
    gaps: tuple[Span, ...] = ()
    twice: float = 0.0
    clock_s: float = 0.001
    is_refused: bool = False
    spikes: Mapping[int, float] = field(default_factory=dict)
    at: Sequence[float] = ()
    seed: int = 1

    def readings(self) -> list[tuple[float, float, bool]]:
        """Return time, force as displayed, and whether the reading is a spike put in."""
        chance = Random(self.seed)  # noqa: S311 -- noise, not secrets
        count = round(self.until_s / self.step_s) + 1
        times = self.at or [(i + self.late * chance.random()) * self.step_s for i in range(count)]
        found = []
        for i, time_s in enumerate(times):
            # Twelve even chances make a near-normal one, the same in every version of Python.
            noise_n = self.noise_n * (sum(chance.random() for _ in range(12)) - 6)
            is_lost = chance.random() < self.lost or any(a < time_s < b for a, b in self.gaps)
            if is_lost:
                continue
            force_n = self.spikes.get(i, self.shape(time_s) + noise_n)
            force_n = round(force_n / self.display_n) * self.display_n
            stamp_s = int(time_s / self.clock_s + 1e-6) * self.clock_s
            copies = 2 if chance.random() < self.twice else 1
            found += [(stamp_s, force_n, i in self.spikes)] * copies
        return found

    def text(self) -> str:
        """Return the file: an invented log says so, and has a heading with units."""
        rows = [f"{time_s:.3f};{force_n:.0f}" for time_s, force_n, _ in self.readings()]
        return "\n".join(["# Invented data; see README.txt", "Time [s];Force [N]", *rows, ""])

    def least_n(self) -> int | None:
        """Return the least force displayed within the main hold, spikes aside."""
        if not self.holds:
            return None
        start, end = self.holds[0]
        held = [f for t, f, is_spike in self.readings() if start <= t <= end and not is_spike]
        return round(min(held))


def line(*corners: tuple[float, float]) -> Shape:
    """Return the load that goes straight from corner to corner."""

    def at(time_s: float) -> float:
        for (t0, f0), (t1, f1) in pairwise(corners):
            if time_s <= t1:
                return f0 + (f1 - f0) * (time_s - t0) / (t1 - t0)
        return corners[-1][1]

    return at


def proof(*held: tuple[float, float], zero_n: float = 0.0) -> Shape:
    """Return ramp, hold and release; `held` are corners inside the hold (s, part of the load)."""
    inside = held or ((15.0, 1.0), (45.0, 1.0))
    corners = [(t, zero_n + part * LEVEL) for t, part in inside]
    end_s = inside[-1][0]
    return line(
        (0.0, zero_n), (5.0, zero_n), *corners, (end_s + 3.0, zero_n), (end_s + 8.0, zero_n)
    )


def relaxing(time_s: float) -> float:
    """Creep: 3 % are lost, most of it in the first seconds of the hold."""
    shown = proof()(time_s)
    start, end = HOLD
    if time_s <= start:
        return shown
    part = 1 - 0.03 * (1 - exp(-(min(time_s, end) - start) / 6.0))
    return shown * part


def rippled(*, part: float, period_s: float) -> Shape:
    """Return a hold on which a load swings evenly about its level, as a pump or a hum does."""

    def at(time_s: float) -> float:
        start, end = HOLD
        swing = sin(2 * pi * (time_s - start) / period_s) if start <= time_s <= end else 0.0
        return proof()(time_s) + part * LEVEL * swing

    return at


def pumped(*, part: float, period_s: float) -> Shape:
    """Return a hold on which a pump lifts the load at each stroke and a leak lets it sink."""

    def at(time_s: float) -> float:
        start, end = HOLD
        if not start < time_s < end:
            return proof()(time_s)
        return LEVEL * (1 - part * ((time_s - start) % period_s) / period_s)

    return at


def stamps_of_many_rates() -> list[float]:
    """Return times whose steps change every few seconds from 10 ms to 1 s and back."""
    at, times = 0.0, []
    while at <= ENDS_S:
        times.append(at)
        at += (0.01, 0.5, 0.1, 1.0, 0.05)[int(at // 4) % 5]
    return times


LOGS = (
    Log("clean", "a plain hold", proof(), tolerance_s=0.1),
    Log("noise", "normal noise of 0.3 %", proof(), noise_n=150.0),
    Log("heavy_noise", "normal noise of 0.8 %", proof(), noise_n=400.0, tolerance_s=0.5, seed=2),
    Log("creep_down", "sinks evenly by 3 %", proof((15, 1.0), (45, 0.97)), noise_n=50.0),
    Log("creep_up", "climbs evenly by 3 %", proof((15, 0.97), (45, 1.0)), noise_n=50.0),
    Log(
        "relaxation",
        "loses 3 %, most of it at first",
        relaxing,
        noise_n=50.0,
        tolerance_s=0.5,
    ),
    Log(
        "small_steps",
        "topped up by 1.5 % twice: one hold, its lowest that of the lowest step",
        proof((15, 1.0), (25, 0.985), (25.3, 1.0), (35, 0.985), (35.3, 1.0), (45, 0.985)),
        noise_n=50.0,
    ),
    Log(
        "large_step",
        "thirty seconds at the load, then sixty at 85 % of it: two holds",
        proof((15, 1.0), (45, 1.0), (46, 0.85), (106, 0.85)),
        holds=(HOLD, (46.0, 106.0)),
        until_s=114.0,
        noise_n=50.0,
    ),
    Log(
        "spikes",
        "single and double spikes, up and down, in hold, ramp and release",
        proof(),
        noise_n=50.0,
        spikes={100: 90_000.0, 200: 60_000.0, 201: 61_000.0, 250: 10_000.0, 300: 20_000.0,
                301: 21_000.0, 350: 52_000.0, 400: -5_000.0, 462: 70_000.0},
    ),
    Log("missing", "a third of the readings lost", proof(), noise_n=50.0, lost=0.33,
        tolerance_s=0.5),
    Log("gap", "no readings for six seconds of the hold", proof(), noise_n=50.0,
        gaps=((28.0, 34.0),)),
    Log("gap_at_start", "no readings from late in the ramp to early in the hold", proof(),
        noise_n=50.0, gaps=((13.5, 17.0),), tolerance_s=2.1),
    Log("late_stamps", "every reading late by up to nine tenths of a step", proof(),
        noise_n=50.0, late=0.9),
    Log("many_rates", "steps of 10 ms, 50 ms, 0.1, 0.5 and 1 s in turn", proof(), noise_n=50.0,
        at=stamps_of_many_rates(), tolerance_s=1.05),
    Log("twice", "one line in twenty written twice", proof(), noise_n=50.0, twice=0.05),
    Log("whole_seconds", "ten readings a second on a clock of whole seconds: nine of ten lines",
        proof(), clock_s=1.0, holds=(), is_refused=True),
    Log("coarse_display", "a display in steps of 500 N", proof(), display_n=500.0),
    Log("coarse_creep", "a display in steps of 500 N, sinking by 3 %",
        proof((15, 1.0), (45, 0.97)), display_n=500.0, noise_n=100.0),
    Log("zero_off", "the empty machine shows 1500 N, and so much too much throughout",
        proof(zero_n=1_500.0), noise_n=50.0),
    Log("zero_below", "the empty machine shows 800 N too little", proof(zero_n=-800.0),
        noise_n=50.0),
    Log(
        "hung_release",
        "the release hangs for 1.5 s at half the load and jumps up once",
        line((0, 0), (5, 0), (15, LEVEL), (45, LEVEL), (46, 25_000), (47.5, 25_000),
             (47.7, 31_000), (48.5, 0), (53, 0)),
        noise_n=50.0,
    ),
    Log(
        "slow_release",
        "let down over a minute: the descent is no part of the hold",
        line((0, 0), (5, 0), (15, LEVEL), (45, LEVEL), (105, 0), (110, 0)),
        until_s=110.0,
        noise_n=50.0,
        tolerance_s=0.4,
    ),
    Log(
        "two_holds",
        "the load put on twice, twenty seconds and forty",
        line((0, 0), (5, 0), (10, LEVEL), (30, LEVEL), (32, 0), (36, 0), (41, LEVEL), (81, LEVEL),
             (84, 0), (88, 0)),
        holds=((41.0, 81.0), (10.0, 30.0)),
        until_s=88.0,
        noise_n=50.0,
    ),
    Log(
        "dip",
        "falls to 60 % for a second in mid-hold: two holds, not one",
        proof((15, 1.0), (29, 1.0), (29.5, 0.6), (30.5, 0.6), (31, 1.0), (49, 1.0)),
        holds=((31.0, 49.0), (15.0, 29.0)),
        until_s=57.0,
        noise_n=50.0,
    ),
    Log(
        "short_dip",
        "one reading a second, of which two fall to 60 %: the load was gone, that is no spike",
        line((0, 0), (5, 0), (15, LEVEL), (30, LEVEL), (31, 30_000), (32, 30_000), (33, LEVEL),
             (45, LEVEL), (48, 0), (53, 0)),
        step_s=1.0,
        noise_n=50.0,
        tolerance_s=1.0,
    ),
    Log("saw_tooth", "a pump lifts the load by 3 % every two seconds",
        pumped(part=0.03, period_s=2.0), noise_n=50.0, tolerance_s=0.35),
    Log("wide_saw_tooth", "a pump lifts the load by 12 % every two seconds: nothing is held",
        pumped(part=0.12, period_s=2.0), holds=(), noise_n=50.0),
    Log("hum", "a hum of 1 % at 1.7 Hz", rippled(part=0.01, period_s=0.588), noise_n=50.0),
    Log("slow_swing", "swings by 1.5 % either way in ten seconds",
        rippled(part=0.015, period_s=10.0), noise_n=50.0, tolerance_s=0.5),
    Log(
        "slow_ramp",
        "five minutes of even climbing, and down: nothing is held",
        line((0, 0), (300, LEVEL), (303, 0)),
        holds=(),
        until_s=303.0,
        step_s=0.5,
        noise_n=100.0,
    ),
    Log("slow_fall", "never still: falls by 15 % within the half minute",
        proof((15, 1.0), (45, 0.85)), holds=(), noise_n=50.0),
    Log("three_readings", "three readings", line((0, LEVEL), (60, LEVEL)), holds=(), until_s=60.0,
        step_s=30.0),
    Log("ten_second_steps", "a minute held, one reading each ten seconds",
        line((0, 0), (30, LEVEL), (90, LEVEL), (100, 0)), holds=((30.0, 90.0),), until_s=110.0,
        step_s=10.0, noise_n=50.0, tolerance_s=10.0),
    Log("ends_loaded", "the log ends while the load is on", proof((15, 1.0), (60, 1.0)),
        holds=((15.0, 53.0),), noise_n=50.0),
    Log("begins_loaded", "the log begins while the load is on",
        line((0, LEVEL), (30, LEVEL), (33, 0), (38, 0)), holds=((0.0, 30.0),), until_s=38.0,
        noise_n=50.0),
    Log(
        "overshoot",
        "three per cent too much at first, and back within a second: part of the hold",
        proof((14.8, 1.03), (15.8, 1.0), (45, 1.0)),
        holds=((14.5, 45.0),),
        noise_n=50.0,
        tolerance_s=0.4,
    ),
    Log(
        "far_overshoot",
        "ten per cent too much at first: the hold begins when it is back",
        proof((14.0, 1.1), (15.0, 1.0), (45, 1.0)),
        noise_n=50.0,
        tolerance_s=0.4,
    ),
    Log("spiky_noise", "noise of 0.2 %, one reading in fifty off by up to 20 %", proof(),
        noise_n=100.0,
        spikes={i: LEVEL * (0.8 + 0.4 * (i % 7) / 6) for i in range(160, 450, 50)}),
)  # fmt: skip


def _shown(log: Log) -> str:
    holds = ", ".join(f"{start:g} to {end:g}" for start, end in log.holds) or "none"
    holds = "refused" if log.is_refused else holds
    least = log.least_n()
    lowest = "-" if least is None else str(least)
    return f"{log.name:<18}{holds:<24}{log.tolerance_s:<8g}{lowest:<9}{log.told}"


def table() -> str:
    """Return the table of truths."""
    heading = f"{'log':<18}{'holds, s':<24}{'+/- s':<8}{'least, N':<9}what it is"
    return "\n".join(
        [
            "Force logs made to mislead a search for holds: invented data from make_logs.py.",
            "",
            "Each is built from the corners of its load, so the truth is known before any rule has",
            "looked. Holds stand main one first; the least force is the least displayed within the",
            "main hold, without the spikes that were put in. A refused log is not read at all.",
            "",
            heading,
            *map(_shown, LOGS),
            "",
        ]
    )


def make_logs() -> dict[str, str]:
    """Return the text of every file by its name."""
    return {"README.txt": table(), **{f"{log.name}.csv": log.text() for log in LOGS}}


def main() -> None:
    """Write all files beside this one."""
    for name, text in make_logs().items():
        (Path(__file__).parent / name).write_text(text, encoding="utf-8", newline="\n")


if __name__ == "__main__":
    main()
