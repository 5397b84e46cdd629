"""Every cut piece on record, and one line of an order, as a client of the API asks for them."""

from django.db.models import QuerySet

from inventory.models import CutPiece, OrderLine


def cut_pieces() -> QuerySet[CutPiece]:
    """Return the cut pieces, newest first, with where they went; the reversed ones too."""
    related = ("assembly_tie__assembly", "delivery_item__delivery", "wound_reel")
    found = CutPiece.objects.select_related("reel", "order_line__order", *related)
    return found.order_by("-id")


def line_of_order(order_code: str, *, position: int) -> OrderLine | None:
    """Return a line by the code of its order and its position there, counted from 1."""
    lines = OrderLine.objects.filter(order__code=order_code, position=position)
    return lines.select_related("order").first()
