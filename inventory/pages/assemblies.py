"""Assemblies: the list, one assembly with its legs and their origin, and building one."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from inventory.models import Assembly, Termination
from inventory.pages.acting import deed, done, for_act, found, perform, signed_in, typed
from inventory.pages.assemblies_table import state_of, table_of_assemblies
from inventory.pages.facts import Fact, told
from inventory.pages.fittings import table_of_lots
from inventory.pages.forms.assemblies import AssemblyFilter, AssemblyForm, LegRows
from inventory.pages.forms.rows import Rows
from inventory.pages.holds_table import table_of_holds
from inventory.pages.links import cell_of, href_of, order_fact
from inventory.pages.origin_tables import table_of_documents
from inventory.pages.pieces_table import table_of_pieces
from inventory.pages.reading import moment, shown_metres
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Cell, Line, Table, build_table
from inventory.queries import registers
from inventory.queries.held import held_assemblies, held_pieces
from inventory.queries.holds import holds_on_assembly
from inventory.queries.things import assembly_of_code
from inventory.queries.trace_back import AssemblyTrace, BackTrace, back_from_assembly
from inventory.rules.metres import Stretch
from inventory.rules.roles import Act
from inventory.services.assemble import (
    FittingAsked,
    PieceAsked,
    TerminationAsked,
    build_assembly,
)

_OFFERED = 30

_SORTS: Sorts = {
    "Assembly": ("id",),
    "Kind": ("kind",),
    "Description": ("description",),
    "Built": ("built_at",),
}


@signed_in
def assemblies(request: HttpRequest) -> HttpResponse:
    """List the assemblies."""
    filters = AssemblyFilter(request.GET)
    return show_list(
        request,
        "inventory/assemblies.html",
        rows=registers.assemblies(kind=filters.read("kind") or ""),
        table=lambda listed: table_of_assemblies(listed, held=held_assemblies()),
        area="assemblies",
        noun="assemblies",
        sorts=_SORTS,
        filters=filters,
    )


@signed_in
def assembly(request: HttpRequest, code: str) -> HttpResponse:
    """Show an assembly."""
    shown = found(assembly_of_code(code))
    trace, holds = back_from_assembly(shown), holds_on_assembly(shown)
    return show(
        request,
        "inventory/assembly.html",
        area="assemblies",
        assembly=shown,
        facts=_facts(shown),
        state=state_of(shown, is_held=bool(holds)),
        may_leave=not holds and not hasattr(shown, "delivery_item"),
        ends=_ends(list(registers.terminations_of(shown))),
        legs=_legs(trace),
        heats=_heats(trace),
        documents=table_of_documents(trace.mill_documents) if trace.mill_documents else None,
        holds=table_of_holds(holds) if holds else None,
    )


@for_act(Act.BUILD_ASSEMBLY)
def build(request: HttpRequest) -> HttpResponse:
    """Ask for an assembly, leg by leg."""
    form = AssemblyForm(*typed(request), initial={"kind": request.GET.get("kind", "one_leg")})
    suggested = [{"piece": piece} for piece in request.GET.getlist("piece")]
    legs = LegRows(typed(request)[0], prefix="leg", initial=suggested)
    built = perform(
        request,
        lambda: build_assembly(**form.values, pieces=_asked(legs), **deed(request)),
        form,
        legs,
    )
    if built is not None:
        said = f"Assembly {built.code} is built."
        return done(request, said, "inventory:assembly", built.code)
    pieces, lots = registers.free_pieces()[:_OFFERED], registers.lots_left()[:_OFFERED]
    return show(
        request,
        "inventory/build.html",
        area="assemblies",
        form=form,
        rows=legs,
        pieces=table_of_pieces(pieces, held=held_pieces()),
        lots=table_of_lots(list(lots)),
        cancel=reverse("inventory:assemblies"),
    )


def _asked(legs: Rows) -> list[PieceAsked]:
    return [
        PieceAsked(row["piece"], _terminations(row), clear_mm=row["clear_mm"])
        for row in legs.filled
    ]


def _terminations(row: dict[str, Any]) -> list[TerminationAsked]:
    return [
        TerminationAsked(
            end=end,
            kind=row[f"{end}_kind"],
            fittings=[FittingAsked(lot, count) for lot, count in row[f"{end}_fittings"]],
            operator=row["operator"],
            eye_mm=row[f"{end}_eye_mm"],
        )
        for end in (Termination.End.NEAR.value, Termination.End.FAR.value)
        if row[f"{end}_kind"]
    ]


def _facts(assembly: Assembly) -> list[Fact]:
    return told(
        Fact("Kind", assembly.get_kind_display()),
        Fact("Description", assembly.description),
        order_fact(assembly.order_line),
        Fact("For", assembly.get_use_display()),
        Fact("Rated by", assembly.get_convention_display()),
        Fact("Placed on the market", f"{assembly.market_date or ''}"),
        Fact("Bears on at least", f"{assembly.bend_mm} mm" if assembly.bend_mm else ""),
        Fact("Built", moment(assembly.built_at), note=f"by {assembly.built_by}"),
    )


def _ends(terminations: list[Termination]) -> Table:
    return build_table(
        columns=("Piece", "End", "Termination", "Fittings", "Soft eye", "Made by"),
        lines=(
            Line(
                (
                    cell_of(end.assembly_piece.piece),
                    end.get_end_display(),
                    end.get_kind_display(),
                    ", ".join(
                        f"{use.quantity} × {use.lot.description} ({use.lot.code})"
                        for use in end.fittings.all()
                    ),
                    f"{end.eye_mm} mm all round" if end.eye_mm else "",
                    end.operator,
                )
            )
            for end in terminations
        ),
        folds=True,
    )


def _legs(trace: AssemblyTrace) -> Table:
    return build_table(
        columns=("Piece", "Length", "Clear rope", "Cut from", "On the mill's reel"),
        lines=(
            Line(
                (
                    cell_of(leg.piece),
                    shown_metres(leg.piece.length_mm),
                    _clear(leg),
                    leg.ancestors[0].reel_code,
                    _on_mill_reel(leg),
                )
            )
            for leg in trace.pieces
        ),
        folds=True,
    )


def _clear(leg: BackTrace) -> str:
    clear_mm = leg.piece.assembly_tie.clear_mm
    return "not measured" if clear_mm is None else f"{clear_mm} mm"


def _heats(trace: AssemblyTrace) -> Table:
    return build_table(
        columns=("Heat", "Number", "Steel", "Maker"),
        lines=(
            Line((Cell(h.code, href=href_of(h)), h.number, h.steel_name, h.mill.name))
            for h in trace.heats
        ),
        folds=True,
    )


def _on_mill_reel(leg: BackTrace) -> str:
    origin = leg.mill_reel
    return f"{Stretch(origin.from_mm, origin.to_mm)} of {origin.reel_code}"
