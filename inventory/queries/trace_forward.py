"""Forward: from metres, a heat, a piece or a fitting lot to all that was made of it.

Each answer costs one recursive query, whatever the number of pieces; a heat one more, for the
fitting lots made of it. A reversed cut is in no answer. A reel of the heat or stretch asked about
is itself in the answer, at depth 0; the reel that a piece was cut from is not.
"""

from inventory.models import Assembly, CutPiece, FittingLot, Heat, Reel
from inventory.queries.forward_fold import fold
from inventory.queries.forward_rows import (
    Forward,
    ForwardAssembly,
    ForwardCustomer,
    ForwardDelivery,
    ForwardPiece,
    ForwardReel,
)
from inventory.queries.forward_select import piece_ids, reached
from inventory.queries.genealogy_sql import Sql, down
from inventory.queries.seeds import down_from, down_from_stretch
from inventory.rules.metres import Stretch

__all__ = [
    "Forward",
    "ForwardAssembly",
    "ForwardCustomer",
    "ForwardDelivery",
    "ForwardPiece",
    "ForwardReel",
    "forward",
    "forward_as_ever",
    "forward_from_assembly",
    "forward_from_fitting_lot",
    "forward_from_heat",
    "forward_from_piece",
    "forward_from_reel",
    "forward_sql",
]


def forward(*, reel_id: int, from_mm: int, to_mm: int) -> Forward:
    """Return all that was made of the metres `[from_mm, to_mm)` of a reel, and of no others.

    Raises:
        Refusal: the stretch is empty or starts before metre 0.

    """
    asked = Stretch(from_mm, to_mm)
    seed = down_from_stretch(reel_id=reel_id, from_mm=asked.from_mm, to_mm=asked.to_mm)
    return fold(reached(down(seed)))


def forward_from_reel(
    reel: Reel, *, from_mm: int | None = None, to_mm: int | None = None
) -> Forward:
    """Return all that was made of a reel, or of a stretch of it in mm.

    Raises:
        Refusal: the stretch is empty or starts before metre 0.

    """
    return forward(
        reel_id=reel.pk,
        from_mm=0 if from_mm is None else from_mm,
        to_mm=reel.length_mm if to_mm is None else to_mm,
    )


def forward_from_heat(heat: Heat) -> Forward:
    """Return all rope and all fittings of a heat, and what was made of them."""
    lots = FittingLot.objects.filter(heat=heat).select_related("maker").order_by("code")
    return fold(reached(down(down_from(heat))), fitting_lots=lots)


def forward_from_fitting_lot(lot: FittingLot) -> Forward:
    """Return the assemblies that fittings of a lot went into, with the pieces they sit on."""
    return fold(reached(down(down_from(lot))))


def forward_from_piece(piece: CutPiece) -> Forward:
    """Return the piece itself and all that was made of it."""
    return fold(reached(down(down_from(piece))))


def forward_from_assembly(assembly: Assembly) -> Forward:
    """Return an assembly with its pieces, and where it went."""
    return fold(reached(down(down_from(assembly))))


def forward_as_ever(
    source: Heat | Reel | FittingLot | CutPiece | Assembly,
    *,
    from_mm: int | None = None,
    to_mm: int | None = None,
) -> Forward:
    """Return all that was ever made of a thing, reversed cuts too: on an earlier day they stood.

    `from_mm` and `to_mm` narrow a reel. Who asks must leave out what did not stand on that day.
    """
    seed = down_from(source, from_mm=from_mm, to_mm=to_mm, reversed_too=True)
    lots = FittingLot.objects.none()
    if isinstance(source, Heat):
        lots = FittingLot.objects.filter(heat=source).select_related("maker").order_by("code")
    return fold(reached(down(seed), reversed_too=True), fitting_lots=lots)


def forward_sql(
    source: Heat | Reel | FittingLot | CutPiece | Assembly,
    *,
    from_mm: int | None = None,
    to_mm: int | None = None,
    reversed_too: bool = False,
) -> Sql:
    """Return a SELECT of `piece_id`, for use within another query: every piece reached.

    An id may be repeated. `from_mm` and `to_mm` narrow a reel.
    """
    seed = down_from(source, from_mm=from_mm, to_mm=to_mm, reversed_too=reversed_too)
    return piece_ids(down(seed), reversed_too=reversed_too)
