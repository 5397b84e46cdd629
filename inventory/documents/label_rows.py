"""Decides in which row above a bar each label stands, so that no leader line strikes a label.

A label starts at its leader and runs to the right; the leader drops straight to the bar. What
finds no row is left out of the drawing: the table beside each drawing always has everything.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

_GAP = 8.0


@dataclass(frozen=True, slots=True)
class Label:
    """A label wanted at `x` (user units), estimated `width` wide; a pressing one goes first."""

    key: int
    x: float
    width: float
    is_pressing: bool = False

    def covers(self, x: float) -> bool:
        """Tell whether a leader at x would pass through this label or brush it."""
        return self.x <= x < self.x + self.width + _GAP


def stack_labels(labels: Sequence[Label], *, rows: int) -> dict[int, int]:
    """Return key -> row (0 next to the bar) for the labels that fit into so many rows.

    If not all fit, the pressing ones are placed before the others and may use twice the rows.
    """
    everything = _place(labels, taken={}, rows=len(labels) + 1)
    if all(row < rows for row in everything.values()):
        return everything
    pressing = _place((item for item in labels if item.is_pressing), taken={}, rows=2 * rows)
    by_key = {item.key: item for item in labels}
    taken = {by_key[key]: row for key, row in pressing.items()}
    rest = _place((item for item in labels if not item.is_pressing), taken=taken, rows=rows)
    return {**pressing, **rest}


def _place(labels: Iterable[Label], *, taken: dict[Label, int], rows: int) -> dict[int, int]:
    """Place labels from right to left, each in the lowest row its neighbours leave free."""
    placed = dict(taken)
    result: dict[int, int] = {}
    for label in sorted(labels, key=lambda item: (item.x, item.key), reverse=True):
        above = [row for other, row in placed.items() if label.covers(other.x)]
        below = [row for other, row in placed.items() if other.covers(label.x)]
        row = max(above, default=-1) + 1
        if row < min([rows, *below]):
            placed[label] = row
            result[label.key] = row
    return result
