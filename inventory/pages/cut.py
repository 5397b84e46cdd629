"""Cutting a piece from a reel."""

from django.http import HttpRequest, HttpResponse

from inventory.models import CutPiece, Reel
from inventory.pages.acting import deed, for_act, found, initial_from, perform, typed
from inventory.pages.forms.cuts import CutForm
from inventory.pages.links import href_of
from inventory.pages.reel_offer import table_of_stretches
from inventory.pages.rendering import show
from inventory.pages.undo import done_with_undo
from inventory.queries.stock import clear_on_reel
from inventory.queries.things import reel_of_code
from inventory.rules.roles import Act
from inventory.rules.units import format_metres
from inventory.services.cut import cut_piece

_FROM_ADDRESS = ("order_line", "length_mm", "purpose", "from_mm")


@for_act(Act.CUT_PIECE)
def cut(request: HttpRequest, code: str) -> HttpResponse:
    """Ask for a piece of a reel."""
    reel = found(reel_of_code(code))
    form = CutForm(*typed(request), reel=reel, initial=initial_from(request, *_FROM_ADDRESS))
    piece = perform(request, lambda: cut_piece(reel=reel, **form.values, **deed(request)), form)
    if piece is not None:
        said, code = _said(piece, reel), piece.code
        return done_with_undo(
            request, said, undo="inventory:undo_cut", code=code, to="inventory:piece"
        )
    return show(
        request,
        "inventory/cut.html",
        area="reels",
        reel=reel,
        form=form,
        clear=table_of_stretches(clear_on_reel(reel)),
        submit="Cut this piece",
        cancel=href_of(reel),
    )


def _said(piece: CutPiece, reel: Reel) -> str:
    ends = f"{format_metres(piece.from_mm)} to {format_metres(piece.to_mm)}"
    return f"Piece {piece.code} is cut: {format_metres(piece.length_mm)}, {ends} of {reel.code}."
