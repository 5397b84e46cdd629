"""Decides how cut pieces stand in a table: their metres, and where each is now."""

from collections.abc import Collection, Iterable

from inventory.models import CutPiece
from inventory.pages.links import cell_of, href_of
from inventory.pages.reading import shown_metres
from inventory.pages.table import Cell, Column, Line, Table, build_table


def where_is(piece: CutPiece) -> Cell:
    """Return where a piece is now, with a link; its relations should be loaded."""
    if piece.is_reversed:
        return Cell("reversed: the metres are on the reel", shape="past")
    if hasattr(piece, "wound_reel"):
        word = "rewound to" if piece.purpose == CutPiece.Purpose.REWIND else "came back as"
        return Cell(f"{word} {piece.wound_reel.code}", href=href_of(piece.wound_reel))
    if hasattr(piece, "delivery_item"):
        delivery = piece.delivery_item.delivery
        return Cell(f"delivered, {delivery.code}", href=href_of(delivery))
    if hasattr(piece, "assembly_tie"):
        assembly = piece.assembly_tie.assembly
        return Cell(f"in assembly {assembly.code}", href=href_of(assembly))
    return Cell("in the house" if piece.purpose == CutPiece.Purpose.SUPPLY else "")


def table_of_cuts(cuts: Iterable[CutPiece], *, held: Collection[int] = ()) -> Table:
    """Return the cuts of one reel, by metre."""
    return build_table(
        columns=(
            "Piece",
            Column("From", is_number=True),
            Column("To", is_number=True),
            Column("Length", is_number=True),
            "Purpose",
            "Order",
            "Where it is",
        ),
        lines=(
            Line(
                (
                    cell_of(cut),
                    shown_metres(cut.from_mm),
                    shown_metres(cut.to_mm),
                    shown_metres(cut.length_mm),
                    cut.get_purpose_display(),
                    cell_of(cut.order_line.order if cut.order_line else None),
                    where_is(cut),
                ),
                is_held=cut.pk in held,
            )
            for cut in cuts
        ),
        folds=True,
    )


def table_of_pieces(pieces: Iterable[CutPiece], *, held: Collection[int] = ()) -> Table:
    """Return pieces of several reels."""
    return build_table(
        columns=("Piece", "Rope", Column("Length", is_number=True), "Cut from", "State"),
        lines=(
            Line(
                (
                    cell_of(piece),
                    piece.reel.designation,
                    shown_metres(piece.length_mm),
                    cell_of(piece.reel),
                    Cell("under hold: do not use", shape="stop")
                    if piece.pk in held
                    else where_is(piece),
                ),
                is_held=piece.pk in held,
            )
            for piece in pieces
        ),
        folds=True,
    )
