"""What was cut around a point of rope: on its reel, on the mill's reel, and through rewinds.

The look-out is along the rope as the mill made it, so that rope once beside the point is found on
whatever reel it went to since.
"""

from dataclasses import dataclass

from inventory.models import Reel
from inventory.queries.forward_fold import fold_pieces
from inventory.queries.forward_rows import ForwardPiece
from inventory.queries.forward_select import ReachedRow, reached
from inventory.queries.genealogy_sql import around
from inventory.queries.seeds import up_from_stretch
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres


@dataclass(frozen=True, slots=True)
class Neighbour:
    """A piece, and how far along the rope its nearer end is from the point, in mm.

    0 when the point is in the piece or at its end. The piece's `asked_` metres are those of the
    mill's reel.
    """

    piece: ForwardPiece
    distance_mm: int


def neighbours(
    reel: Reel, *, metre_mm: int, span_mm: int, reversed_too: bool = False
) -> list[Neighbour]:
    """Return every piece with rope nearer than `span_mm` to a point of the reel, nearest first.

    A reversed cut is no neighbour unless it is asked for: on an earlier day it was.

    Raises:
        Refusal: the point is not on the reel, or there is no span to look at.

    """
    if not 0 <= metre_mm <= reel.length_mm:
        message = (
            f"Metre {format_metres(metre_mm)} is not on reel {reel.code}, "
            f"which is {format_metres(reel.length_mm)} long."
        )
        raise Refusal(message, field="metre_mm")
    if span_mm <= 0:
        message = "Give a span above nothing to look at on both sides of the point."
        raise Refusal(message, field="span_mm")
    point = up_from_stretch(reel_id=reel.pk, from_mm=metre_mm, to_mm=metre_mm)
    found = reached(around(point, span_mm=span_mm), reversed_too=reversed_too)
    centre = _centre(found)
    near = [Neighbour(piece, _distance(piece, centre)) for piece in fold_pieces(found)]
    return sorted(near, key=lambda n: (n.distance_mm, n.piece.asked_from_mm, n.piece.depth))


def _centre(found: list[ReachedRow]) -> int:
    """Return the point on the mill's reel: the middle of the window that was looked through."""
    root = next(row for row in found if row.depth == 0)
    return (root.from_mm + root.to_mm) // 2


def _distance(piece: ForwardPiece, centre: int) -> int:
    return max(0, piece.asked_from_mm - centre, centre - piece.asked_to_mm)
