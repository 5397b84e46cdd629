"""Fittings: the list of lots, one lot with where it went, and receiving one."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from inventory.models import FittingLot
from inventory.pages.acting import deed, done, for_act, found, perform, signed_in, typed
from inventory.pages.facts import Fact, told
from inventory.pages.forms.makers import FittingFilter, FittingLotForm
from inventory.pages.holds_table import table_of_holds
from inventory.pages.links import cell_of, fact_of
from inventory.pages.reading import moment
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Column, Line, Table, build_table
from inventory.queries import registers
from inventory.queries.holds import holds_on_lot
from inventory.queries.things import lot_of_code
from inventory.rules.roles import Act
from inventory.services.fittings import receive_fitting_lot

_SORTS: Sorts = {
    "Lot": ("id",),
    "Kind": ("kind",),
    "Description": ("description",),
    "Maker": ("maker__name",),
}


@signed_in
def fittings(request: HttpRequest) -> HttpResponse:
    """List the lots of fittings."""
    filters = FittingFilter(request.GET)
    return show_list(
        request,
        "inventory/fittings.html",
        rows=registers.fitting_lots(kind=filters.read("kind") or ""),
        table=table_of_lots,
        area="fittings",
        noun="lots",
        sorts=_SORTS,
        filters=filters,
    )


@signed_in
def fitting(request: HttpRequest, code: str) -> HttpResponse:
    """Show a lot of fittings."""
    lot = found(lot_of_code(code))
    holds, uses = holds_on_lot(lot), list(registers.uses_of_lot(lot))
    return show(
        request,
        "inventory/fitting.html",
        area="fittings",
        lot=lot,
        facts=_facts(lot, used=sum(use.quantity for use in uses)),
        uses=build_table(
            columns=("Assembly", "End", Column("How many", is_number=True)),
            lines=(
                Line(
                    (
                        cell_of(use.termination.assembly_piece.assembly),
                        str(use.termination),
                        str(use.quantity),
                    )
                )
                for use in uses
            ),
            folds=True,
        ),
        holds=table_of_holds(holds) if holds else None,
    )


@for_act(Act.RECEIVE_FITTINGS)
def receive_lot(request: HttpRequest) -> HttpResponse:
    """Ask for a lot of fittings."""
    form = FittingLotForm(*typed(request))
    lot = perform(request, lambda: receive_fitting_lot(**form.values, **deed(request)), form)
    if lot is not None:
        return done(request, f"Lot {lot.code} is received.", "inventory:fitting", lot.code)
    return show(
        request,
        "inventory/receive_fittings.html",
        area="fittings",
        form=form,
        submit="Receive this lot",
        cancel=reverse("inventory:fittings"),
    )


def table_of_lots(lots: list[Any]) -> Table:
    """Return lots with how many are left; `used` is annotated by the register."""
    return build_table(
        columns=(
            "Lot",
            "Kind",
            "Description",
            "Maker",
            "For rope",
            Column("Left", is_number=True),
        ),
        lines=(
            Line(
                (
                    cell_of(lot),
                    lot.get_kind_display(),
                    lot.description,
                    lot.maker.name,
                    for_rope(lot),
                    f"{lot.quantity - lot.used} of {lot.quantity}",
                )
            )
            for lot in lots
        ),
        folds=True,
    )


def for_rope(lot: FittingLot) -> str:
    """Return the rope diameter that a lot is made for, in mm."""
    if lot.for_diameter_nm is None:
        return "any diameter"
    return f"{lot.for_diameter_nm / 1_000_000:g} mm"


def _facts(lot: FittingLot, *, used: int) -> list[Fact]:
    return told(
        Fact("Kind", lot.get_kind_display()),
        Fact("Description", lot.description),
        Fact("For rope", for_rope(lot)),
        Fact("Marked load", f"{lot.rated_kg} kg" if lot.rated_kg else ""),
        Fact("Left", f"{lot.quantity - used} of {lot.quantity}"),
        Fact("Material", lot.material),
        Fact("Maker", lot.maker.name, note=lot.maker.code),
        Fact("Maker's lot number", lot.maker_lot_number),
        fact_of("Heat", lot.heat, note=lot.heat.number if lot.heat else ""),
        fact_of("Document", lot.document, note=lot.document.number if lot.document else ""),
        Fact("Received", moment(lot.received_at), note=f"by {lot.received_by}"),
    )
