"""The page of one cut piece: where it came from, where it is, and what may be done with it."""

from django.http import HttpRequest, HttpResponse

from inventory.models import CutPiece
from inventory.pages.acting import deed, done, for_act, found, perform, signed_in, typed
from inventory.pages.facts import Fact, told
from inventory.pages.forms.cuts import ReverseForm, TakeBackForm
from inventory.pages.holds_table import table_of_holds
from inventory.pages.links import fact_of, href_of, order_fact
from inventory.pages.origin_tables import table_of_ancestors, table_of_documents, table_of_heats
from inventory.pages.pieces_table import where_is
from inventory.pages.reading import moment, shown_metres
from inventory.pages.rendering import show
from inventory.queries.holds import holds_on_piece
from inventory.queries.things import piece_of_code
from inventory.queries.trace_back import back_from_piece
from inventory.rules.as_given import beside
from inventory.rules.roles import Act
from inventory.services.cut import reverse_cut
from inventory.services.take_back import take_back_piece


@signed_in
def piece(request: HttpRequest, code: str) -> HttpResponse:
    """Show a cut piece."""
    shown = found(piece_of_code(code))
    trace = back_from_piece(shown)
    holds = holds_on_piece(shown)
    return show(
        request,
        "inventory/piece.html",
        area="reels",
        piece=shown,
        facts=_facts(shown),
        where=where_is(shown),
        may_be_used=_may_be_used(shown) and not holds,
        is_sample=shown.purpose == CutPiece.Purpose.SAMPLE and not shown.is_reversed,
        may_be_reversed=_may_be_reversed(shown),
        may_come_back=_may_come_back(shown),
        ancestors=table_of_ancestors(trace.ancestors),
        heats=table_of_heats(trace.heats),
        documents=table_of_documents(trace.mill_documents) if trace.mill_documents else None,
        holds=table_of_holds(holds) if holds else None,
    )


@for_act(Act.REVERSE_CUT)
def reverse_a_cut(request: HttpRequest, code: str) -> HttpResponse:
    """Ask why a cut is taken back."""
    taken_back = found(piece_of_code(code))
    form = ReverseForm(*typed(request))
    reversal = perform(
        request, lambda: reverse_cut(cut=taken_back, **form.values, **deed(request)), form
    )
    if reversal is not None:
        said = f"The cut of {code} is reversed; its metres are on the reel again."
        return done(request, said, "inventory:reel", taken_back.reel.code)
    return show(
        request,
        "inventory/reverse_cut.html",
        area="reels",
        piece=taken_back,
        form=form,
        submit="Reverse this cut",
        cancel=href_of(taken_back),
    )


@for_act(Act.TAKE_BACK_PIECE)
def take_back(request: HttpRequest, code: str) -> HttpResponse:
    """Ask what of a delivered piece came back."""
    returned = found(piece_of_code(code))
    form = TakeBackForm(*typed(request))
    reel = perform(
        request, lambda: take_back_piece(piece=returned, **form.values, **deed(request)), form
    )
    if reel is not None:
        said = f"{code} came back as reel {reel.code}."
        return done(request, said, "inventory:reel", reel.code)
    return show(
        request,
        "inventory/take_back.html",
        area="reels",
        piece=returned,
        form=form,
        submit="Take it back",
        cancel=href_of(returned),
    )


def _facts(piece: CutPiece) -> list[Fact]:
    reversal = piece.reversal if hasattr(piece, "reversal") else None
    return told(
        Fact("Rope designation", piece.reel.designation),
        Fact(
            "Length",
            beside(shown_metres(piece.length_mm), piece.as_given, "length_mm"),
            note=_demand(piece),
        ),
        Fact("Purpose", piece.get_purpose_display()),
        fact_of(
            "Cut from",
            piece.reel,
            note=f"{shown_metres(piece.from_mm)} to {shown_metres(piece.to_mm)}",
        ),
        Fact("End towards metre 0", piece.get_near_end_display()),
        Fact("Other end", piece.get_far_end_display()),
        order_fact(piece.order_line),
        Fact("Note", piece.note),
        Fact("Cut", moment(piece.cut_at), note=f"by {piece.cut_by}"),
        Fact(
            "Reversed",
            moment(reversal.reversed_at) if reversal else "",
            note=f"by {reversal.reversed_by}: {reversal.reason}" if reversal else "",
        ),
    )


def _demand(piece: CutPiece) -> str:
    if piece.ordered_length_mm is None:
        return ""
    given = piece.as_given
    ordered, minus, plus = (
        beside(shown_metres(getattr(piece, name)), given, name)
        for name in ("ordered_length_mm", "tolerance_minus_mm", "tolerance_plus_mm")
    )
    return f"ordered {ordered}, −{minus}, +{plus}"


def _may_be_used(piece: CutPiece) -> bool:
    """Tell whether to offer building it in or delivering it; the services decide."""
    is_gone = any(hasattr(piece, name) for name in ("assembly_tie", "delivery_item"))
    return piece.purpose == CutPiece.Purpose.SUPPLY and not piece.is_reversed and not is_gone


def _may_be_reversed(piece: CutPiece) -> bool:
    """Tell whether to offer taking the cut back; the service decides."""
    made = ("assembly_tie", "delivery_item", "wound_reel")
    return not piece.is_reversed and not any(hasattr(piece, name) for name in made)


def _may_come_back(piece: CutPiece) -> bool:
    """Tell whether to offer taking it back; the service decides."""
    return hasattr(piece, "delivery_item") and not hasattr(piece, "wound_reel")
