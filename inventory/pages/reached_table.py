"""Decides how everything that was made of something stands in a table."""

from collections.abc import Iterator

from django.urls import reverse

from inventory.pages.links import cell_of, piece_href, reel_href
from inventory.pages.table import Cell, Line, Table, build_table
from inventory.queries.trace_forward import Forward, ForwardPiece
from inventory.rules.metres import Stretch


def table_of_reached(reached: Forward) -> Table:
    """Return reels, fitting lots, pieces and assemblies, with where each went."""
    return build_table(
        columns=("What", "Code", "Metres", "Where it went"), lines=_lines(reached), folds=True
    )


def _lines(reached: Forward) -> Iterator[Line]:
    for reel in reached.reels:
        metres = str(Stretch(reel.from_mm, reel.to_mm))
        yield Line(("reel", Cell(reel.code, href=reel_href(reel.code)), metres, ""))
    for lot in reached.fitting_lots:
        yield Line(("fitting lot", cell_of(lot), "", ""))
    for piece in reached.pieces:
        metres = f"{Stretch(piece.from_mm, piece.to_mm)} of {piece.reel_code}"
        code = Cell(piece.code, href=piece_href(piece.code))
        yield Line((f"piece, {piece.purpose}", code, metres, _where(piece)))
    for assembly in reached.assemblies:
        href = reverse("inventory:assembly", args=[assembly.code])
        went = f"delivered, {assembly.delivery_code}" if assembly.delivery_code else "in the house"
        yield Line(("assembly", Cell(assembly.code, href=href), "", went))


def _where(piece: ForwardPiece) -> str:
    if piece.wound_reel_code:
        return f"wound as {piece.wound_reel_code}"
    if piece.assembly_code:
        return f"in assembly {piece.assembly_code}"
    return f"delivered, {piece.delivery_code}" if piece.delivery_code else "in the house"
