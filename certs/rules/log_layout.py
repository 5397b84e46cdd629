"""How the text of a force log is laid out: its signs, its lines, its separator, its decimal mark.

It decides how a line falls into cells and a cell into a number; what the columns mean is decided
by `log_columns`.
"""

import csv
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

_LINE_END: Final = re.compile(r"\r\n|\n|\r")
_SAMPLED_LINES: Final = 4000

# On a tie the earlier one wins: a comma separates only where tab and semicolon do not.
_LAYOUTS: Final = (("\t", "."), ("\t", ","), (";", "."), (";", ","), (",", "."), (",", ","))

# Digits are limited so that no number, however written, can overflow.
_NUMBER: Final = {
    mark: re.compile(rf"[+-]?(?:\d{{1,15}}(?:{re.escape(mark)}\d{{0,15}})?"
                     rf"|{re.escape(mark)}\d{{1,15}})(?:[eE][+-]?\d{{1,2}})?", re.ASCII)
    for mark in ".,"
}  # fmt: skip
_GROUPED: Final = re.compile(r"[+-]?[1-9]\d{0,2}[.,]\d{3}", re.ASCII)
_WHOLE: Final = re.compile(r"[+-]?\d{1,3}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Layout:
    """The separator of the cells and the decimal mark of the numbers."""

    separator: str
    decimal_mark: str

    def cells(self, line: str) -> list[str]:
        """Return the cells of a line, without empty ones at its end."""
        if '"' in line:
            cells = next(csv.reader([line], delimiter=self.separator), [])
        else:
            cells = line.split(self.separator)
        while cells and not cells[-1].strip():
            cells.pop()
        return cells

    def number(self, cell: str) -> Decimal | None:
        """Return the number in a cell, or None: thousands marks, words and NaN are no numbers."""
        text = cell.strip().replace("\u2212", "-")
        if _NUMBER[self.decimal_mark].fullmatch(text) is None:
            return None
        return Decimal(text.replace(self.decimal_mark, "."))

    def is_data(self, cells: Sequence[str]) -> bool:
        """Tell whether a line holds at least two numbers."""
        return sum(self.number(cell) is not None for cell in cells) > 1


def decode(log: str | bytes) -> str:
    """Return the text of a log: UTF-8 or UTF-16 by its mark, UTF-8, else Latin-1."""
    if isinstance(log, str):
        return log.removeprefix("\ufeff")
    if log.startswith((b"\xff\xfe", b"\xfe\xff")):
        return log.decode("utf-16", errors="replace")
    try:
        return log.decode("utf-8-sig")
    except UnicodeDecodeError:
        return log.decode("latin-1")


def split_lines(text: str) -> list[str]:
    """Split at line ends only, so that line numbers are those an editor shows."""
    return _LINE_END.split(text)


def find_layout(lines: Sequence[str]) -> Layout | None:
    """Return the layout under which most lines hold two numbers; None where none does."""
    best, most = None, 0
    for separator, mark in _LAYOUTS:
        layout = Layout(separator, mark)
        found = sum(layout.is_data(layout.cells(line)) for line in _sample(lines))
        if found > most:
            best, most = layout, found
    return best


def first_data_line(lines: Sequence[str], layout: Layout) -> int:
    """Return the index of the first line that is as wide as most data lines and holds two numbers.

    A line of metadata can hold two numbers as well; it seldom has the width of the table.
    """
    sample = [cells for cells in map(layout.cells, _sample(lines)) if layout.is_data(cells)]
    (width, _), *_ = Counter(map(len, sample)).most_common(1)
    cells_of_lines = enumerate(map(layout.cells, lines))
    return next(i for i, cells in cells_of_lines if len(cells) == width and layout.is_data(cells))


def _sample(lines: Sequence[str]) -> Sequence[str]:
    """Return lines from all over the log, few enough to be read several times."""
    return lines[:: 1 + len(lines) // _SAMPLED_LINES]


def is_ambiguous(cells: Sequence[str]) -> bool:
    """Tell whether the mark in a column may separate thousands instead of decimals.

    So it may where every marked number looks like "1,234" and the small ones carry no mark.
    """
    numbers = [cell.strip() for cell in cells]
    marked = [cell for cell in numbers if "," in cell or "." in cell]
    whole = [cell for cell in numbers if _WHOLE.fullmatch(cell)]
    return bool(marked) and bool(whole) and all(map(_GROUPED.fullmatch, marked))
