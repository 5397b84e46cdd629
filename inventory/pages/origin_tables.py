"""Decides how the origin of rope is told: reels with metres, heats with metres, mill documents."""

from collections.abc import Iterable

from inventory.models import MillDocument
from inventory.pages.links import cell_of, piece_href, reel_href
from inventory.pages.reading import day, shown_metres
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.queries.trace_back import Ancestor, HeatOnStretch

_FROM, _TO = Column("From", is_number=True), Column("To", is_number=True)


def table_of_ancestors(ancestors: Iterable[Ancestor]) -> Table:
    """Return the reels that rope was on, nearest first; the mill's reel is the last."""
    return build_table(
        columns=("Reel", _FROM, _TO, "Scale runs", "Wound from piece"),
        lines=(
            Line(
                (
                    Cell(ancestor.reel_code, href=reel_href(ancestor.reel_code)),
                    shown_metres(ancestor.from_mm),
                    shown_metres(ancestor.to_mm),
                    "the same way" if ancestor.sign > 0 else "the other way",
                    _piece(ancestor.wound_from_code),
                )
            )
            for ancestor in ancestors
        ),
        folds=True,
    )


def table_of_heats(heats: Iterable[HeatOnStretch]) -> Table:
    """Return the heats in rope with the metres of the mill's reel that hold them."""
    return build_table(
        columns=("Heat", "Number", "Steel", "Mill", "On reel", _FROM, _TO),
        lines=(
            Line(
                (
                    cell_of(entry.heat),
                    entry.heat.number,
                    entry.heat.steel_name,
                    entry.mill.name,
                    Cell(entry.reel_code, href=reel_href(entry.reel_code)),
                    shown_metres(entry.from_mm),
                    shown_metres(entry.to_mm),
                )
            )
            for entry in heats
        ),
        folds=True,
    )


def table_of_documents(documents: Iterable[MillDocument]) -> Table:
    """Return mill documents with a link to each."""
    return build_table(
        columns=("Document", "Number", "Type", "Maker", "Dated", "Held as"),
        lines=(
            Line(
                (
                    cell_of(document),
                    document.number,
                    document.get_kind_display(),
                    document.mill.name,
                    day(document.issued_date),
                    document.get_form_display(),
                )
            )
            for document in documents
        ),
        folds=True,
    )


def _piece(code: str) -> Cell:
    return Cell(code, href=piece_href(code)) if code else Cell("")
