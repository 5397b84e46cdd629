"""Books the cuts of a plan for an order: all of them, or none.

A plan is made of what the stock was a moment ago. So every cut is made here as any other is, under
lock, and the first that no longer fits takes the rest of the booking with it, by name.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db import transaction

from inventory.models import CutPiece, Order, OrderLine, Person, Reel
from inventory.rules.cutting_terms import PlannedCut
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.rules.units import format_metres
from inventory.services.authority import require
from inventory.services.cut import cut_piece
from inventory.services.locks import lock_rows

MOST_CUTS = 500


class CannotBook(Refusal):
    """A plan cannot be booked; nothing of it was. `cut` counts from 0, None for all of it."""

    def __init__(self, message: str, *, field: str = "", cut: int | None = None) -> None:
        """Take the sentence, and which cut it is about."""
        super().__init__(message, field=field)
        self.cut = cut


@dataclass(frozen=True, slots=True)
class _Cut:
    planned: PlannedCut
    reel: Reel
    line: OrderLine


def book_plan(
    *, order: Order, cuts: Sequence[PlannedCut], by: Person, at: datetime
) -> list[CutPiece]:
    """Cut every piece of a plan, in the order given, each with an entry of its own.

    Raises:
        NotAllowed: the person's role does not cut.
        CannotBook: no cut, too many, an unknown reel or line, or one that no longer fits; names it.
    """
    require(by=by, act=Act.CUT_PIECE)
    if not 0 < len(cuts) <= MOST_CUTS:
        message = f"A plan has 1 to {MOST_CUTS} cuts; this one has {len(cuts)}."
        raise CannotBook(message, field="cuts")
    found = _found(order, cuts)
    with transaction.atomic():
        # In the order of all services, before the first cut takes number series and journal.
        lock_rows(Reel, {cut.reel.pk for cut in found})
        lock_rows(OrderLine, {cut.line.pk for cut in found})
        return [_cut(place, cut, by=by, at=at) for place, cut in enumerate(found)]


def _found(order: Order, cuts: Sequence[PlannedCut]) -> list[_Cut]:
    reels = {reel.code: reel for reel in Reel.objects.filter(code__in={cut.reel for cut in cuts})}
    lines = {f"{order.code}.{line.position}": line for line in order.lines.select_related("order")}
    found = []
    for place, cut in enumerate(cuts):
        reel, line = reels.get(cut.reel), lines.get(cut.line)
        if reel is None or line is None:
            what = f"no line {cut.line}" if line is None else f"no reel {cut.reel}"
            message = f"Cut {place + 1}: there is {what} for order {order.code}."
            raise CannotBook(message, field="cuts", cut=place)
        found.append(_Cut(cut, reel, line))
    return found


def _cut(place: int, cut: _Cut, *, by: Person, at: datetime) -> CutPiece:
    stretch = cut.planned.stretch
    try:
        return cut_piece(
            reel=cut.reel,
            from_mm=stretch.from_mm,
            length_mm=stretch.length_mm,
            purpose=CutPiece.Purpose.SUPPLY,
            order_line=cut.line,
            by=by,
            at=at,
        )
    except Refusal as refusal:
        message = (
            f"Cut {place + 1}, {format_metres(stretch.length_mm)} of reel {cut.reel.code} for line"
            f" {cut.line.position}, does not fit: {refusal.message} Nothing of the plan was booked."
        )
        raise CannotBook(message, cut=place) from refusal
