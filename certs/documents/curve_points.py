"""Decides which points of a long log are drawn: so many that the line looks the same."""

from collections.abc import Iterator, Sequence
from itertools import groupby

Point = tuple[float, float]


def thinned(points: Sequence[Point], *, column: float) -> Iterator[Point]:
    """Yield, for each run of points in one column, its first, lowest, highest and last in order.

    `column` is the width in user units within which points cannot be told apart. Every extreme of
    the log survives: a peak is never drawn lower than it was.
    """
    for _, run in groupby(enumerate(points), key=lambda item: int(item[1][0] // column)):
        members = list(run)
        lowest = min(members, key=lambda item: item[1][1])
        highest = max(members, key=lambda item: item[1][1])
        kept = {members[0][0], lowest[0], highest[0], members[-1][0]}
        yield from (points[index] for index in sorted(kept))


def where_force_was(curve: Sequence[Sequence[int]], *, force_n: int) -> tuple[float, float]:
    """Find where a curve of whole ms and N shows a force: the time in s, and the nearest force.

    The highest point drawn may be a disturbance that was set aside, and is no force on the rope.
    """
    at_ms, shown_n = min(curve, key=lambda sample: abs(sample[1] - force_n))
    return at_ms / 1000, float(shown_n)
