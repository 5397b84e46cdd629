"""Takes a delivered piece back from a customer: it becomes a reel again."""

from datetime import datetime

from django.db import transaction

from inventory.models import CutPiece, Person, Reel
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.rules.units import format_metres
from inventory.services import journal
from inventory.services.authority import require
from inventory.services.guarded import add_row
from inventory.services.locks import lock_row
from inventory.services.wound_reel import wound_reel


class CannotTakeBack(Refusal):
    """A piece cannot be taken back as a reel."""


def take_back_piece(
    *,
    piece: CutPiece,
    from_mm: int = 0,
    to_mm: int | None = None,
    is_turned: bool,
    location: str,
    by: Person,
    at: datetime,
) -> Reel:
    """Take back a piece, or what is left of it, and return the reel that it is now.

    A hold does not keep goods away: they come back so that they are used no more, and the hold
    reaches the reel.

    Args:
        from_mm: where the returned part starts, along the piece from its near end.
        to_mm: where it ends; None for the far end.

    Raises:
        CannotTakeBack: not delivered by itself, taken back already, or not that long.
    """
    require(by=by, act=Act.TAKE_BACK_PIECE)
    with transaction.atomic():
        lock_row(piece.reel)
        piece = lock_row(piece)
        part = Stretch(from_mm, piece.length_mm if to_mm is None else to_mm)
        _check(piece, part)
        stretch = Stretch(piece.from_mm + part.from_mm, piece.from_mm + part.to_mm)
        wound = wound_reel(piece, stretch, origin=Reel.Origin.RETURN, is_turned=is_turned)
        wound.location, wound.received_at, wound.received_by = location.strip(), at, by
        add_row(wound, refusal=CannotTakeBack)
        journal.append(
            at=at,
            by=by,
            act=Act.TAKE_BACK_PIECE.value,
            subject=wound.code,
            detail={
                "piece": piece.code,
                "from_mm": part.from_mm,
                "to_mm": part.to_mm,
                "is_turned": is_turned,
            },
            rows=[wound],
        )
    return wound


def _check(piece: CutPiece, part: Stretch) -> None:
    if hasattr(piece, "assembly_tie"):
        message = f"Piece {piece.code} is part of an assembly; an assembly is no reel again."
        raise CannotTakeBack(message)
    if not hasattr(piece, "delivery_item"):
        message = f"Piece {piece.code} was not delivered; reverse the cut if it was not made."
        raise CannotTakeBack(message)
    if hasattr(piece, "wound_reel"):
        message = f"Piece {piece.code} was taken back already, as reel {piece.wound_reel.code}."
        raise CannotTakeBack(message)
    if part.to_mm > piece.length_mm:
        message = f"Piece {piece.code} is only {format_metres(piece.length_mm)} long."
        raise CannotTakeBack(message, field="to_mm")
