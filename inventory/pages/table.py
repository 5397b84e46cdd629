"""Decides what a table on a page is made of, so that one template can draw every one of them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """The head of a column; figures stand under each other on the right.

    `href` is where the list is put in order by it; `sorted` is "ascending", "descending" or empty.
    """

    word: str
    is_number: bool = False
    href: str = ""
    sorted: str = ""


@dataclass(frozen=True, slots=True)
class Cell:
    """A text with a link, a state shape (see parts/_state.html) or a note."""

    text: str
    href: str = ""
    shape: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """The cells of one row; a plain text is a cell with nothing more to it."""

    cells: Sequence[str | Cell]
    is_lit: bool = False
    is_held: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """A line with each cell under its column."""

    under: tuple[tuple[Column, Cell], ...]
    is_lit: bool
    is_held: bool


@dataclass(frozen=True, slots=True)
class Table:
    """Columns and rows; `folds` says that rows become cards on a narrow screen."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    folds: bool = False


def build_table(
    *, columns: Sequence[str | Column], lines: Iterable[Line], folds: bool = False
) -> Table:
    """Put lines under columns.

    Raises:
        ValueError: a line has more or fewer cells than there are columns.

    """
    heads = tuple(item if isinstance(item, Column) else Column(item) for item in columns)
    rows = tuple(
        Row(
            under=tuple(zip(heads, map(_as_cell, line.cells), strict=True)),
            is_lit=line.is_lit,
            is_held=line.is_held,
        )
        for line in lines
    )
    return Table(heads, rows, folds)


def _as_cell(content: str | Cell) -> Cell:
    return content if isinstance(content, Cell) else Cell(content)
