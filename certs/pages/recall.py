"""Decides how what a suspect heat, stretch or lot reaches is asked for and told."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse

from certs.pages import claim_tables, story_tables
from certs.pages.forms.find import AroundForm, RecallForm
from certs.pages.reel_figure import ReelFigure, figure_of_reel
from certs.pages.rendering import show
from certs.queries.held_codes import held_codes
from certs.queries.trace import recall_heat, recall_lot, recall_reel
from certs.queries.trace_back_shapes import Beside
from certs.queries.trace_find import CannotTrace, find_traceable
from certs.queries.trace_rows import beside_rows
from certs.queries.trace_shapes import Recall
from inventory.models import CutPiece, FittingLot, Heat, Reel
from inventory.pages.acting import signed_in
from inventory.pages.table import Table
from inventory.queries.find import find_thing, heats_of_number
from inventory.queries.neighbours import neighbours
from inventory.queries.things import reel_of_code
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal


@dataclass(frozen=True, slots=True)
class RecallTold:
    """A recall as counts and tables; a table without rows is left out."""

    recall: Recall
    pieces: Table
    parts: Sequence[tuple[str, str, Table]]


@signed_in
def recall(request: HttpRequest) -> HttpResponse:
    """Everything that a suspect heat, lot or stretch of rope reaches."""
    form = RecallForm(request.GET) if "code" in request.GET else RecallForm()
    told = None
    if form.is_bound and form.is_valid():
        try:
            told = told_recall(_recalled(**form.cleaned_data))
        except Refusal as refusal:
            form.add_error(refusal.field if refusal.field in form.fields else None, refusal.message)
    figure = _figure(told.recall) if told else None
    return show(request, "certs/recall.html", area="trace", form=form, told=told, figure=figure)


@signed_in
def around(request: HttpRequest) -> HttpResponse:
    """What was cut around a point of a reel, on it and through every rewind."""
    form = AroundForm(request.GET) if "code" in request.GET else AroundForm()
    table = None
    if form.is_bound and form.is_valid():
        try:
            table = story_tables.beside(_beside(**form.cleaned_data))
        except Refusal as refusal:
            form.add_error(refusal.field if refusal.field in form.fields else None, refusal.message)
    return show(request, "certs/around.html", area="trace", form=form, table=table)


def _recalled(*, code: str, from_mm: int | None, to_mm: int | None) -> Recall:
    heats = heats_of_number(code)
    if len(heats) > 1:
        named = ", ".join(f"{heat.code} of {heat.mill}" for heat in heats)
        message = f"Several heats have the number {code}: {named}. Give the code of one."
        raise CannotTrace(message)
    thing = heats[0] if heats else find_traceable(code).thing
    if not isinstance(thing, Reel) and (from_mm, to_mm) != (None, None):
        message = f"Metres are named only with a reel, and {thing.code} is none: leave them empty."
        raise Refusal(message, field="from_mm")
    match thing:
        case Heat() as heat:
            return recall_heat(heat)
        case FittingLot() as lot:
            return recall_lot(lot)
        case Reel() as reel:
            return recall_reel(reel, from_mm=from_mm, to_mm=to_mm)
        case CutPiece() as piece:
            return recall_reel(piece.reel, from_mm=piece.from_mm, to_mm=piece.to_mm)
    message = "An assembly is traced to its pieces, lots and heats first: recall one of those."
    raise CannotTrace(message)


def _figure(found: Recall) -> ReelFigure | None:
    """Draw the reel it is of, with the pieces that hold any of it lit; nothing else is drawn."""
    asked = found["asked"]
    reel = reel_of_code(asked["code"]) if asked["kind"] == "reel" else None
    return figure_of_reel(reel, lit={row["code"] for row in found["pieces"]}) if reel else None


def told_recall(found: Recall) -> RecallTold:
    """Tell a recall as tables."""
    held = held_codes({row["code"] for row in found["pieces"]})
    parts = [
        ("customers", "Whom to call", claim_tables.customers(found["customers"])),
        ("papers", "Certificates", claim_tables.certificates(found["certificates"])),
        ("proof", "Proof-load tests", claim_tables.proof(found["proof_tests"])),
        ("breaking", "Breaking-force tests", claim_tables.breaking(found["breaking_tests"])),
        ("lots", "Fitting lots made of it", story_tables.lots(found["made_lots"])),
        ("deliveries", "Deliveries", story_tables.deliveries(found["deliveries"])),
        ("tags", "Tags on site", claim_tables.tags(found["tags"])),
        ("holds", "Holds", story_tables.holds(found["holds"])),
    ]
    return RecallTold(
        recall=found,
        pieces=story_tables.pieces(found["pieces"], held=held),
        parts=[part for part in parts if part[2].rows],
    )


def _beside(*, code: str, metre_mm: int, span_mm: int) -> list[Beside]:
    reel = reel_of_code(code.strip().upper())
    named = None if reel else find_thing(code)
    if isinstance(named, CutPiece):
        stretch = Stretch(named.from_mm, named.to_mm)
        message = f"{named.code} is a piece: {stretch} of reel {named.reel.code}. Give that reel."
        raise CannotTrace(message)
    if reel is None:
        message = f"There is no reel {code}."
        raise CannotTrace(message)
    return beside_rows(neighbours(reel, metre_mm=metre_mm, span_mm=span_mm))
