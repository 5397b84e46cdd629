"""The rows of a force log, line by line: which give a sample, and why the others give none.

Nothing is mended here: a row is read as it stands or reported. How many bad rows are too many is
decided by `load_log`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, NamedTuple

from certs.rules.log_columns import Columns
from certs.rules.log_layout import Layout

_SHOWN_TEXT: Final = 80


class Sample(NamedTuple):
    """One reading: time in seconds on the clock of the machine, force in newtons."""

    time_s: float
    force_n: float


@dataclass(frozen=True, slots=True)
class LineProblem:
    """A line that was not used: its number counted from 1, its text, and why."""

    line: int
    text: str
    reason: str

    def __str__(self) -> str:
        """Say it in one line."""
        return f"line {self.line}: {self.reason}"


@dataclass(frozen=True, slots=True)
class RowReader:
    """Turns rows into samples, with what it must know of their columns."""

    layout: Layout
    columns: Columns
    seconds: Decimal
    newtons: Decimal

    def read(self, rows: Sequence[tuple[int, str]]) -> tuple[list[Sample], list[LineProblem]]:
        """Return the samples in rising order of time, and every line that gave none."""
        samples: list[Sample] = []
        problems: list[LineProblem] = []
        for line, text in rows:
            found = self._sample(text)
            if isinstance(found, Sample) and samples:
                found = _in_order(found, samples[-1])
            if isinstance(found, Sample):
                samples.append(found)
            else:
                problems.append(LineProblem(line, text.strip()[:_SHOWN_TEXT], found))
        return samples, problems

    def forces(self, rows: Sequence[tuple[int, str]]) -> list[str]:
        """Return the cells of the force column as written."""
        at = self.columns.force
        split = (self.layout.cells(text) for _, text in rows)
        return [cells[at] for cells in split if len(cells) > at]

    def _sample(self, text: str) -> Sample | str:
        """Return the sample in a row, or why it holds none."""
        cells = self.layout.cells(text)
        if len(cells) <= max(self.columns.time, self.columns.force):
            return "too few columns"
        if len(cells) > self.columns.width:
            return "more columns than the heading"
        time = self.layout.number(cells[self.columns.time])
        force = self.layout.number(cells[self.columns.force])
        if time is None:
            return "the time is not a number"
        if force is None:
            return "the force is not a number"
        # Exact up to here, so that 50.3 kN is 50300 N and not a hair less.
        return Sample(float(time * self.seconds), float(force * self.newtons))


def _in_order(sample: Sample, before: Sample) -> Sample | str:
    if sample.time_s == before.time_s:
        return "the same time as the line before"
    return sample if sample.time_s > before.time_s else "the time runs backward"
