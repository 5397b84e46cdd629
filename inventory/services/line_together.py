"""Decides whether a piece shares with the earlier pieces of its line what the customer asked for.

All of a line from one reel, or all of the same heats: every piece is then compared with those that
are cut already. To go on otherwise the customer's order has to be changed.
"""

from inventory.models import CutPiece, OrderLine, Reel
from inventory.queries.heats_along import heats_along, heats_of_all
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal


def check_together(
    line: OrderLine, *, reel: Reel, stretch: Stretch, refusal: type[Refusal]
) -> None:
    """Refuse a piece that does not go with the others of its line, which must be locked.

    Raises:
        Refusal: of the class given; another reel, other heats, or heats that are not certain.
    """
    if line.together == OrderLine.Together.NOT_ASKED:
        return
    first = line.pieces.filter(is_reversed=False).select_related("reel").order_by("id").first()
    if line.together == OrderLine.Together.ONE_REEL:
        _check_reel(first, reel=reel, refusal=refusal)
    else:
        _check_heats(first, reel=reel, stretch=stretch, refusal=refusal)


def _check_reel(first: CutPiece | None, *, reel: Reel, refusal: type[Refusal]) -> None:
    if first is not None and first.reel_id != reel.pk:
        message = (
            f"The order asks for all of this line from one reel, and piece {first.code} was cut"
            f" from {first.reel.code}; cut this one from there too."
        )
        raise refusal(message, field="order_line")


def _check_heats(
    first: CutPiece | None, *, reel: Reel, stretch: Stretch, refusal: type[Refusal]
) -> None:
    reels = {reel.pk} if first is None else {reel.pk, first.reel_id}
    heats = heats_along(reels)
    here = heats_of_all(heats[reel.pk], stretch)
    if here is None:
        message = (
            "The order asks for all of this line of the same heats, and those of"
            f" {stretch} of reel {reel.code} change along it."
        )
        raise refusal(message, field="order_line")
    if first is None:
        return
    if here != heats_of_all(heats[first.reel_id], Stretch(first.from_mm, first.to_mm)):
        message = (
            "The order asks for all of this line of the same heats, and"
            f" {stretch} of reel {reel.code} is of others than piece {first.code}."
        )
        raise refusal(message, field="order_line")
