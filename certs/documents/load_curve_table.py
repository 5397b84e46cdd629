"""Decides how a force log is said in words: its turning points, and the force at round times."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from certs.documents.curve_limits import kilonewtons
from certs.documents.curve_marks import CurveMarks, Sample
from inventory.documents.scale import plain, round_ticks


@dataclass(frozen=True, slots=True)
class CurveRow:
    """A moment or a stretch of the log as texts: time in s, force with its unit, what it is."""

    time_s: str
    force: str
    remark: str


def load_curve_table(
    *, samples: Sequence[Sample], marks: CurveMarks | None = None
) -> tuple[CurveRow, ...]:
    """Return the recorded samples next after round times, and the marks, in order of time.

    No force is interpolated: each row is a sample of the log or a mark as it was given.
    """
    if not samples:
        return ()
    given = marks or CurveMarks()
    recorded = [
        (time, CurveRow(plain(time), kilonewtons(force), "recorded"))
        for time, force in _round_times(sorted(samples))
    ]
    return tuple(
        row for _, row in sorted([*recorded, *_marked(given)], key=lambda moment: moment[0])
    )


def _round_times(samples: Sequence[Sample]) -> Iterator[Sample]:
    times = [time for time, _ in samples]
    if times[0] == times[-1]:
        yield samples[0]
        return
    chosen = {bisect_left(times, tick) for tick in round_ticks(times[0], times[-1], at_most=12)}
    for index in sorted({0, *chosen, len(samples) - 1} - {len(samples)}):
        yield samples[index]


def _marked(marks: CurveMarks) -> Iterator[tuple[float, CurveRow]]:
    if marks.plateau is not None:
        start, end, lowest = marks.plateau
        times = f"{plain(start)} to {plain(end)}"
        yield start, CurveRow(times, kilonewtons(lowest), "lowest force of the plateau")
    if marks.slow is not None and marks.mark_n is not None:
        start, _ = marks.slow
        yield start, CurveRow(plain(round(start, 3)), kilonewtons(marks.mark_n), "80 % passed")
    if marks.peak is not None:
        time, force = marks.peak
        yield time, CurveRow(plain(time), kilonewtons(force), "peak")
