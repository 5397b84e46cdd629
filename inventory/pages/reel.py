"""The page of one reel: every metre of it, where it came from and what was made of it."""

from django.http import HttpRequest, HttpResponse

from inventory.documents.reel_map import draw_reel_map
from inventory.documents.reel_map_table import reel_map_table
from inventory.models import Reel
from inventory.pages.acting import deed, done, for_act, found, perform, signed_in, typed
from inventory.pages.drawing_tables import table_of_reel_map
from inventory.pages.facts import Fact, told
from inventory.pages.forms.reels import MoveForm
from inventory.pages.holds_table import table_of_holds
from inventory.pages.links import fact_of, href_of, piece_href
from inventory.pages.origin_tables import table_of_ancestors, table_of_documents, table_of_heats
from inventory.pages.pieces_table import table_of_cuts
from inventory.pages.reading import moment, shown_force, shown_metres
from inventory.pages.rendering import show
from inventory.pages.rope_facts import facts_of_rope
from inventory.queries.held import held_pieces
from inventory.queries.holds import holds_on_reel
from inventory.queries.reel_map import ReelMap, reel_map
from inventory.queries.registers import cuts_of_reel
from inventory.queries.stock import reel_balance
from inventory.queries.things import reel_of_code
from inventory.queries.trace_back import back_from_reel
from inventory.rules.as_given import beside
from inventory.rules.metres import Balance
from inventory.rules.roles import Act
from inventory.rules.units import format_um
from inventory.services.receive import move_reel


@signed_in
def reel(request: HttpRequest, code: str) -> HttpResponse:
    """Show a reel."""
    shown = found(reel_of_code(code))
    trace = back_from_reel(shown)
    drawn = reel_map(shown, href=piece_href)
    holds, cuts = holds_on_reel(shown), list(cuts_of_reel(shown))
    return show(
        request,
        "inventory/reel.html",
        area="reels",
        reel=shown,
        rope=facts_of_rope(shown),
        facts=_facts(shown),
        balance=_balance(reel_balance(shown)),
        drawing=_drawing(shown, drawn),
        map_table=table_of_reel_map(
            reel_map_table(length_mm=shown.length_mm, stretches=drawn.stretches, heats=drawn.heats)
        ),
        cuts=table_of_cuts(cuts, held=held_pieces()) if cuts else None,
        heats=table_of_heats(trace.heats),
        ancestors=table_of_ancestors(trace.ancestors) if len(trace.ancestors) > 1 else None,
        documents=table_of_documents(trace.mill_documents) if trace.mill_documents else None,
        holds=table_of_holds(holds) if holds else None,
    )


@for_act(Act.MOVE_REEL)
def move(request: HttpRequest, code: str) -> HttpResponse:
    """Ask where a reel stands now."""
    moved = found(reel_of_code(code))
    form = MoveForm(*typed(request), initial={"location": moved.location})
    result = perform(request, lambda: move_reel(reel=moved, **form.values, **deed(request)), form)
    if result is not None:
        return done(request, f"{code} stands at {result.location}.", "inventory:reel", code)
    return show(
        request,
        "inventory/move.html",
        area="reels",
        reel=moved,
        form=form,
        submit="Record where it stands",
        cancel=href_of(moved),
    )


def _facts(reel: Reel) -> list[Fact]:
    return told(
        Fact(
            "Length as received", beside(shown_metres(reel.length_mm), reel.as_given, "length_mm")
        ),
        Fact("Stands at", reel.location or "not said"),
        Fact("Origin", reel.get_origin_display()),
        fact_of("Wound from", reel.wound_from, note=_winding(reel)),
        Fact("Mill", reel.mill.name, note=reel.mill.code),
        Fact("Mill reel number", reel.mill_reel_number),
        Fact("Grade marked", reel.marked_grade),
        Fact(
            "Breaking force declared",
            beside(_kn(reel.declared_force_n), reel.as_given, "declared_force_n"),
            note="by the maker; what may be certified has a page of its own",
        ),
        Fact("Mass declared", _mass(reel.declared_mass_g_per_100m), note="by the maker"),
        Fact(
            "Lay length",
            beside(_lay(reel.lay_length_um), reel.as_given, "lay_length_um"),
            note="as its maker states it; the soft eyes of slings are held against it",
        ),
        Fact("Marking", reel.marking),
        Fact("Received", moment(reel.received_at), note=f"by {reel.received_by}"),
    )


def _winding(reel: Reel) -> str:
    if reel.wound_from is None:
        return ""
    turned = "turned round" if reel.is_turned else "not turned"
    ends = f"{shown_metres(reel.origin_from_mm or 0)} to {shown_metres(reel.origin_to_mm or 0)}"
    return f"{ends} of {reel.wound_from.reel.code}, {turned}"


def _kn(force_n: int | None) -> str:
    return "" if force_n is None else shown_force(force_n)


def _mass(g_per_100m: int | None) -> str:
    return "" if g_per_100m is None else f"{g_per_100m / 1000:g} kg per 100 m"


def _lay(um: int | None) -> str:
    return "" if um is None else format_um(um)


def _balance(balance: Balance) -> list[Fact]:
    """Say where the length went; the parts always add up to the length."""
    return [
        Fact("Still on the reel", shown_metres(balance.remaining_mm)),
        Fact("Cut for supply", shown_metres(balance.supply_mm)),
        Fact("Test samples", shown_metres(balance.sample_mm)),
        Fact("Rewound", shown_metres(balance.rewind_mm)),
        Fact("Scrap", shown_metres(balance.scrap_mm)),
    ]


def _drawing(reel: Reel, drawn: ReelMap) -> str:
    return draw_reel_map(
        length_mm=reel.length_mm,
        stretches=drawn.stretches,
        heats=drawn.heats,
        title=f"Reel {reel.code}: every metre and where it went",
    )
