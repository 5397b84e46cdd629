"""Heats: the list, one heat with its analysis and where it went, and recording one."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from inventory.models import Heat
from inventory.pages.acting import (
    deed,
    done,
    for_act,
    found,
    initial_from,
    perform,
    signed_in,
    typed,
)
from inventory.pages.facts import Fact, told
from inventory.pages.forms.makers import HeatForm, MadeFilter
from inventory.pages.holds_table import table_of_holds
from inventory.pages.links import cell_of
from inventory.pages.reading import moment, shown_metres
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Column, Line, Table, build_table
from inventory.queries import registers
from inventory.queries.holds import holds_on_heat
from inventory.queries.things import heat_of_code
from inventory.rules.roles import Act
from inventory.services.receive import record_heat

_SORTS: Sorts = {
    "Heat": ("id",),
    "Number": ("number",),
    "Steel": ("steel_name",),
    "Maker": ("mill__name",),
    "Recorded": ("recorded_at",),
}


@signed_in
def heats(request: HttpRequest) -> HttpResponse:
    """List the heats."""
    filters = MadeFilter(request.GET)
    asked = {"mill": filters.read("mill"), "number": filters.read("number") or ""}
    return show_list(
        request,
        "inventory/heats.html",
        rows=registers.heats(**asked),
        table=_table,
        area="heats",
        noun="heats",
        sorts=_SORTS,
        filters=filters,
    )


@signed_in
def heat(request: HttpRequest, code: str) -> HttpResponse:
    """Show a heat."""
    shown = found(heat_of_code(code))
    reels, lots = list(registers.reels_of_heat(shown)), list(registers.lots_of_heat(shown))
    holds = holds_on_heat(shown)
    return show(
        request,
        "inventory/heat.html",
        area="heats",
        heat=shown,
        facts=_facts(shown),
        analysis=_analysis(shown) if shown.analysis else None,
        reels=build_table(
            columns=("Reel", "Rope", Column("Length", is_number=True)),
            lines=(
                Line((cell_of(reel), reel.designation, shown_metres(reel.length_mm)))
                for reel in reels
            ),
            folds=True,
        ),
        lots=build_table(
            columns=("Lot", "Fittings", Column("How many", is_number=True)),
            lines=(Line((cell_of(lot), lot.description, str(lot.quantity))) for lot in lots),
            folds=True,
        ),
        holds=table_of_holds(holds) if holds else None,
    )


@for_act(Act.RECORD_HEAT)
def record(request: HttpRequest) -> HttpResponse:
    """Ask for a heat."""
    form = HeatForm(*typed(request), initial=initial_from(request, "mill"))
    recorded = perform(request, lambda: record_heat(**form.values, **deed(request)), form)
    if recorded is not None:
        said = f"Heat {recorded.number} is recorded as {recorded.code}."
        return done(request, said, "inventory:heat", recorded.code)
    return show(
        request,
        "inventory/record_heat.html",
        area="heats",
        form=form,
        submit="Record this heat",
        cancel=reverse("inventory:heats"),
    )


def _table(listed: list[Any]) -> Table:
    return build_table(
        columns=("Heat", "Number", "Steel", "Maker", "Recorded"),
        lines=(
            Line(
                (cell_of(h), h.number, h.steel_name, h.mill.name, moment(h.recorded_at)),
            )
            for h in listed
        ),
        folds=True,
    )


def _facts(heat: Heat) -> list[Fact]:
    return told(
        Fact("Heat number", heat.number),
        Fact("Steel", heat.steel_name),
        Fact("Maker", heat.mill.name, note=heat.mill.code),
        Fact("Recorded", moment(heat.recorded_at), note=f"by {heat.recorded_by}"),
    )


def _analysis(heat: Heat) -> Table:
    return build_table(
        columns=("Element", Column("Mass %, as printed", is_number=True)),
        lines=(Line((symbol, figure)) for symbol, figure in heat.analysis.items()),
    )
