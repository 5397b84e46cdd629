"""The list of reels: what is left on each, in which lengths, and whether it may be used."""

from typing import Any

from django.http import HttpRequest, HttpResponse

from inventory.pages.acting import signed_in
from inventory.pages.forms.reels import ReelFilter
from inventory.pages.links import cell_of
from inventory.pages.reading import shown_metres
from inventory.pages.rendering import show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.queries.reel_register import reels_on_record
from inventory.queries.stock import StockReel, stock_of

_SORTS: Sorts = {
    "Reel": ("id",),
    "Rope": ("diameter_nm", "designation"),
    "Mill": ("mill__name",),
    "Stands at": ("location",),
}


@signed_in
def reels(request: HttpRequest) -> HttpResponse:
    """List the reels by rope."""
    filters = ReelFilter(request.GET)
    return show_list(
        request,
        "inventory/reels.html",
        rows=reels_on_record(**filters.asked),
        table=_table,
        area="reels",
        noun="reels",
        sorts=_SORTS,
        filters=filters,
    )


def table_of_stock(stock: list[StockReel]) -> Table:
    """Return reels with what is left on them."""
    return build_table(
        columns=(
            "Reel",
            "Rope",
            "Mill",
            Column("Left", is_number=True),
            Column("Longest length", is_number=True),
            "Stands at",
            "State",
        ),
        lines=(
            Line(
                (
                    cell_of(entry.reel),
                    entry.reel.designation,
                    entry.reel.mill.name,
                    shown_metres(entry.remaining_mm),
                    shown_metres(entry.longest_free_mm),
                    entry.reel.location,
                    _state(entry),
                ),
                is_held=entry.is_held,
            )
            for entry in stock
        ),
        folds=True,
    )


def _table(found: list[Any]) -> Table:
    return table_of_stock(stock_of(found))


def _state(entry: StockReel) -> Cell:
    if entry.remaining_mm == 0:
        return Cell("used up", shape="past")
    if not entry.is_held:
        return Cell("free to cut", shape="good")
    if entry.longest_clear_mm == 0:
        return Cell("under hold: do not use", shape="stop")
    clear = shown_metres(entry.longest_clear_mm)
    return Cell("partly under hold", shape="stop", note=f"longest clear length {clear}")
