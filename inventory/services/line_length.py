"""Decides whether a length of a reel serves a line of an order.

A line is one length in one piece, as often as ordered, unless the customer asked otherwise; then
any pieces serve that together are not longer than ordered.
"""

from inventory.models import OrderLine, Reel
from inventory.rules.lengths import LengthDemand
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres
from inventory.services.line_together import check_together


def check_serves(
    line: OrderLine, *, reel: Reel, stretch: Stretch, refusal: type[Refusal]
) -> LengthDemand | None:
    """Return what a piece for this line has to measure; None when any length will do.

    The line must be locked, so that no other piece is cut for it meanwhile.

    Raises:
        Refusal: of the class given; another rope, a wrong length, the line is served, or its
            pieces were to share a reel or heats.
    """
    length_mm = stretch.length_mm
    if line.designation != reel.designation:
        message = f"The order asks for {line.designation}; reel {reel.code} is {reel.designation}."
        raise refusal(message, field="order_line")
    check_together(line, reel=reel, stretch=stretch, refusal=refusal)
    cuts = line.pieces.filter(is_reversed=False).values_list("from_mm", "to_mm")
    cut_mm = [to_mm - from_mm for from_mm, to_mm in cuts]
    demand = LengthDemand(line.length_mm, line.tolerance_minus_mm, line.tolerance_plus_mm)
    if not line.as_one_length:
        _check_sum(line, already_mm=sum(cut_mm), length_mm=length_mm, refusal=refusal)
        return None
    if len(cut_mm) >= line.quantity:
        message = f"All {line.quantity} of this line are cut already."
        raise refusal(message, field="order_line")
    if not demand.accepts(length_mm):
        message = (
            f"The order asks for {format_metres(line.length_mm)} in one length"
            f" (-{format_metres(line.tolerance_minus_mm)},"
            f" +{format_metres(line.tolerance_plus_mm)});"
            f" {format_metres(length_mm)} does not serve it."
        )
        raise refusal(message, field="length_mm")
    return demand


def _check_sum(line: OrderLine, *, already_mm: int, length_mm: int, refusal: type[Refusal]) -> None:
    most_mm = line.quantity * (line.length_mm + line.tolerance_plus_mm)
    if already_mm + length_mm > most_mm:
        left = format_metres(max(most_mm - already_mm, 0))
        message = f"Only {left} of this line are still to be cut."
        raise refusal(message, field="length_mm")
