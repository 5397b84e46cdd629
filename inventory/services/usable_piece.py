"""Decides whether a cut piece is still free to be built in or delivered.

The piece must be locked, so that nobody else takes it meanwhile.
"""

from inventory.models import CutPiece
from inventory.rules.refusal import Refusal


def check_usable(piece: CutPiece, *, refusal: type[Refusal]) -> None:
    """Refuse a piece that is not for supply, reversed, built in, delivered or taken back.

    Raises:
        Refusal: of the class given.
    """
    if piece.is_reversed:
        reason = "its cut was reversed"
    elif piece.purpose != CutPiece.Purpose.SUPPLY:
        reason = f"it was cut {piece.get_purpose_display()}, not for supply"
    elif hasattr(piece, "assembly_tie"):
        reason = f"it is part of assembly {piece.assembly_tie.assembly.code}"
    elif hasattr(piece, "delivery_item"):
        reason = f"it left with delivery {piece.delivery_item.delivery.code}"
    else:
        return
    message = f"Piece {piece.code} cannot be used: {reason}."
    raise refusal(message, field="pieces")
