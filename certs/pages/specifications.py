"""Decides how specification tables are read, and how an agreed one is added."""

from collections.abc import Iterable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from certs.models import AgreedSpecification
from certs.models.specification import TableRow
from certs.pages.acting import for_claim
from certs.pages.forms.agreed import AgreedForm
from certs.pages.forms.find import SearchForm
from certs.pages.rendering import allowed_acts, show
from certs.queries.specification_tables import (
    TABLES,
    ShownColumn,
    SpecificationTable,
    agreed_specifications,
    row_counts,
    rows_of,
)
from certs.rules.confidence import in_words
from certs.rules.roles import ClaimAct
from certs.services.specify import add_agreed_specification
from inventory.pages.acting import deed, done, found, perform, signed_in, typed
from inventory.pages.reading import day, shown_force
from inventory.pages.rendering import show_list
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.rules.as_given import beside

# What the rules read as names, in words.
_WORDS = {
    "one_leg": "one leg",
    "two_legs": "two legs",
    "three_legs": "three legs",
    "four_legs": "four legs",
    "endless_choke": "endless, in choke hitch",
    "from_vertical": "from the vertical",
}


@signed_in
def specifications(request: HttpRequest) -> HttpResponse:
    """All tables held, with what each is for."""
    counts = row_counts()
    lines = (
        Line(
            (
                Cell(table.title, href=reverse("certs:specification", args=[slug])),
                table.about,
                str(counts[slug]),
            )
        )
        for slug, table in TABLES.items()
    )
    columns = ("Table", "What it is for", Column("Rows", is_number=True))
    return show(
        request,
        "certs/specifications.html",
        area="tables",
        table=build_table(columns=columns, lines=lines, folds=True),
        is_loaded=any(counts.values()),
        agreed=_agreed_table(agreed_specifications()),
    )


@signed_in
def specification(request: HttpRequest, slug: str) -> HttpResponse:
    """One table: every row as printed, with source and confidence."""
    table = found(TABLES.get(slug))
    filters = SearchForm(request.GET)
    return show_list(
        request,
        "certs/specification.html",
        rows=rows_of(table, words=filters.words),
        table=lambda rows: _table_of(table, rows),
        area="tables",
        noun="rows",
        filters=filters,
        specification=table,
        allowed=allowed_acts(request),
    )


@for_claim(ClaimAct.ADD_SPECIFICATION)
def add_agreed(request: HttpRequest) -> HttpResponse:
    """Enter what was agreed on with another party."""
    form = AgreedForm(*typed(request))
    added = perform(request, lambda: add_agreed_specification(**form.values, **deed(request)), form)
    if added is not None:
        return done(request, f"{added} is entered.", "certs:specifications")
    return show(request, "certs/add_agreed.html", area="tables", form=form)


def _table_of(table: SpecificationTable, rows: Iterable[TableRow]) -> Table:
    columns = [Column(column.word, column.is_number) for column in table.columns]
    return build_table(
        columns=[*columns, "Source", "Confidence"],
        lines=(
            Line(
                (
                    *(_value(row, column) for column in table.columns),
                    Cell(row.source, note=row.note),
                    in_words(row.confidence),
                )
            )
            for row in rows
        ),
        folds=True,
    )


def _value(row: TableRow, column: ShownColumn) -> Cell:
    value: Any = getattr(row, column.field)
    if isinstance(value, dict):
        return Cell("; ".join(f"{symbol} {limit}" for symbol, limit in value.items()))
    unit = getattr(row, column.unit_field) if column.unit_field else ""
    notes = [str(getattr(row, name)) for name in column.note_fields]
    text = f"{_WORDS.get(value, value)} {unit}".strip() if value else ""
    return Cell(text, note=", ".join(note for note in notes if note))


def _agreed_table(rows: Iterable[AgreedSpecification]) -> Table:
    return build_table(
        columns=("Name", "Rope", "Basis", "Besides", "Agreed with", "Paper", "Entered"),
        lines=(
            Line(
                (
                    Cell(row.name, note=row.edition),
                    row.designation,
                    beside(shown_force(row.force_n), row.as_given, "force_n")
                    if row.force_n
                    else f"K = {row.factor_k}",
                    _besides(row),
                    str(row.agreed_with),
                    row.paper,
                    f"{day(row.entered_at)}, {row.entered_by}",
                )
            )
            for row in rows
        ),
        folds=True,
    )


def _besides(row: AgreedSpecification) -> str:
    """Tell what an agreement adds to its basis."""
    said = {
        "mass factor W = {}": (row.factor_w,),
        "diameter {} % below to {} % above nominal": (
            row.diameter_minus_pct,
            row.diameter_plus_pct,
        ),
        "mass {} % below to {} % above W d²": (row.mass_minus_pct, row.mass_plus_pct),
    }
    return "; ".join(words.format(*figures) for words, figures in said.items() if figures[0])
