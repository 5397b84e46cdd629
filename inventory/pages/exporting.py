"""Decides how a list is taken away as a file: all its rows as they are narrowed and in order.

The columns are those of the page. A figure is a number and its unit stands in the head; a day is a
day, an instant says its zone. Files open in spreadsheets, which must not run what somebody typed
into the record: in CSV a text that could be a formula is preceded by an apostrophe (OWASP, CSV
Injection), in XLSX it is marked as text. Rows are read part by part, so memory stays flat.
"""

import csv
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from itertools import chain, islice
from tempfile import TemporaryFile
from typing import Any, Final, cast

from django.contrib import messages
from django.db.models import QuerySet
from django.http import FileResponse, HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.text import slugify
from openpyxl import Workbook
from openpyxl.cell import WriteOnlyCell
from openpyxl.cell.cell import ILLEGAL_CHARACTERS_RE
from openpyxl.worksheet._write_only import WriteOnlyWorksheet

from inventory.pages.figure import Figure
from inventory.pages.reading import Reading, present_reading, read_as
from inventory.pages.sorting import rest_of_query
from inventory.pages.table import Cell, Table

# The name of the kind of file in an address, and the kinds there are.
FORMAT: Final = "format"
CSV: Final = "csv"
XLSX: Final = "xlsx"
# A file of this many rows is written within seconds; a longer list is narrowed first.
MOST_ROWS = 50_000
_ROWS_AT_ONCE = 500
_XLSX_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
# Spreadsheets know UTF-8 by this mark (common practice).
_MARK = "\N{ZERO WIDTH NO-BREAK SPACE}"
_NUMBER = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
# OWASP, CSV Injection: what a cell must not begin with.
_BEGINS_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n")

Value = str | Decimal | date | datetime
Rows = QuerySet[Any] | Sequence[Any]
MakeTable = Callable[[list[Any]], Table]


@dataclass(frozen=True, slots=True)
class _Head:
    """The head of a column in a file; figures of the unit stand under it as numbers."""

    word: str
    unit: str
    is_number: bool

    def __str__(self) -> str:
        return f"{self.word} ({self.unit})" if self.unit else self.word


def asked_format(request: HttpRequest) -> str:
    """Return the kind of file that the address asks for; empty for a page."""
    kind = request.GET.get(FORMAT, "")
    return kind if kind in {CSV, XLSX} else ""


def exported(request: HttpRequest, *, rows: Rows, table: MakeTable, noun: str) -> HttpResponse:
    """Answer with the whole list as a file, or with its page and what to do if it is too long.

    Args:
        rows: the list, narrowed and in order.
        table: makes the table of some of its rows.
        noun: what is listed, plural; the file is named by it and by the day.
    """
    count = rows.count() if isinstance(rows, QuerySet) else len(rows)
    if count > MOST_ROWS:
        said = (
            f"This list has {count:,} {noun} and a file holds {MOST_ROWS:,} rows."
            " Narrow the list first, then take it."
        )
        messages.error(request, said)
        return redirect(f"{request.path}?{rest_of_query(request)}")
    lines = _lines(rows, table, present_reading())
    is_csv = asked_format(request) == CSV
    answer = (
        StreamingHttpResponse(_csv_parts(lines), content_type="text/csv; charset=utf-8")
        if is_csv
        else FileResponse(_workbook(lines, noun), content_type=_XLSX_TYPE)
    )
    name = f"{slugify(noun)}-{timezone.localdate():%Y-%m-%d}.{asked_format(request)}"
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    answer["Cache-Control"] = "private, no-store"
    # Django's type of a page knows no answer that is streamed.
    return cast("HttpResponse", answer)


def _lines(rows: Rows, table: MakeTable, reading: Reading) -> Iterator[Sequence[Value]]:
    """Give the heads and then every row, long after the page's own work is over."""

    def read(part: list[Any]) -> Table:
        with read_as(reading):
            return table(part)

    parts = map(read, _parts(rows))
    first = next(parts, None) or read([])
    heads = _heads(first)
    yield [str(head) for head in heads]
    for made in chain([first], parts):
        for row in made.rows:
            cells = (cell for _, cell in row.under)
            yield [_value(cell, head) for cell, head in zip(cells, heads, strict=True)]


def _parts(rows: Rows) -> Iterator[list[Any]]:
    found: Iterable[Any] = rows
    if isinstance(rows, QuerySet):
        found = rows.iterator(chunk_size=_ROWS_AT_ONCE)
    left = iter(found)
    while part := list(islice(left, _ROWS_AT_ONCE)):
        yield part


def _heads(table: Table) -> Sequence[_Head]:
    """Say the unit over a column whose figures all have the same."""
    return [
        _Head(column.word, _unit(table, place), column.is_number)
        for place, column in enumerate(table.columns)
    ]


def _unit(table: Table, place: int) -> str:
    texts = [row.under[place][1].text for row in table.rows]
    units = {text.unit for text in texts if isinstance(text, Figure)}
    return units.pop() if len(units) == 1 else ""


def _value(cell: Cell, head: _Head) -> Value:
    """Give what a cell tells: a figure of the column's unit as such, else its words."""
    text = cell.text
    if cell.note:
        return f"{text} ({cell.note})"
    if isinstance(text, Figure) and text.unit == head.unit:
        return text.value
    if head.is_number and _NUMBER.fullmatch(text):
        return Decimal(text)
    return str(text)


class _Echo:
    """A file that gives back what is written to it."""

    def write(self, text: str) -> str:
        return text


def _csv_parts(lines: Iterator[Sequence[Value]]) -> Iterator[str]:
    writer = csv.writer(_Echo())
    yield _MARK
    while part := list(islice(lines, _ROWS_AT_ONCE)):
        yield "".join(writer.writerow([_csv_text(value) for value in line]) for line in part)


def _csv_text(value: Value) -> str:
    if isinstance(value, datetime):
        return value.isoformat(timespec="seconds")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return f"{value:f}"
    return f"'{value}" if value.startswith(_BEGINS_FORMULA) else value


def _workbook(lines: Iterator[Sequence[Value]], noun: str) -> Any:  # noqa: ANN401 -- an open file
    book = Workbook(write_only=True)
    sheet = book.create_sheet(noun.capitalize()[:31])
    sheet.freeze_panes = "A2"
    for line in lines:
        sheet.append([_xlsx_cell(sheet, value) for value in line])
    file = TemporaryFile()  # noqa: SIM115 -- the answer closes it when it was read
    book.save(file)
    file.seek(0)
    return file


def _xlsx_cell(sheet: WriteOnlyWorksheet, value: Value) -> Any:  # noqa: ANN401 -- openpyxl has no types
    """Give a value as a spreadsheet knows it: its times have no zone, and a text is no formula."""
    if isinstance(value, datetime):
        return value.replace(tzinfo=None, microsecond=0)
    if not isinstance(value, str):
        return value
    cell = WriteOnlyCell(sheet, value=ILLEGAL_CHARACTERS_RE.sub("", value))
    cell.data_type = "s"
    return cell
