"""What is still to be cut for an order, and the stretches of reels that may serve it.

Free metres that are not under hold are offered, whatever may be certified from them: what that is
belongs to the claims, which may put a reel last (`certs.queries.suitable_reels`).
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from inventory.models import CutPiece, Order, OrderLine
from inventory.queries.heats_along import heats_along, heats_of_all
from inventory.queries.held import held_reels
from inventory.queries.registers import lines_of_order
from inventory.queries.stock import with_something_left
from inventory.queries.stretches import without
from inventory.rules.cutting_terms import CutDemand, FreeStretch, Together
from inventory.rules.metres import Stretch, free_stretches


def demands_of(order: Order) -> list[CutDemand]:
    """Return what of each line of an order is not cut yet; nothing for a line that is served."""
    lines = list(lines_of_order(order))
    cut = _cut_for(lines)
    heats = heats_along({piece.reel_id for line in lines for piece in _bound(line, cut)})
    demands = (_demand(order, line, cut[line.pk], heats) for line in lines)
    return [demand for demand in demands if demand is not None]


def stock_for(designations: Iterable[str]) -> list[FreeStretch]:
    """Return the clear stretches of these ropes, the oldest reel first; fixed queries."""
    asked = with_something_left().filter(designation__in=set(designations))
    reels = list(asked.order_by("received_at", "id"))
    ids = [reel.pk for reel in reels]
    taken: defaultdict[int, list[Stretch]] = defaultdict(list)
    cuts = CutPiece.objects.filter(reel__in=ids, is_reversed=False)
    for reel_id, from_mm, to_mm in cuts.values_list("reel_id", "from_mm", "to_mm"):
        taken[reel_id].append(Stretch(from_mm, to_mm))
    held, heats = held_reels(), heats_along(ids)
    return [
        FreeStretch(
            reel=reel.code,
            designation=reel.designation,
            stretch=stretch,
            received=age,
            heats=heats_of_all(heats[reel.pk], stretch),
        )
        for age, reel in enumerate(reels)
        for stretch in without(
            free_stretches(reel.length_mm, taken[reel.pk]), held.get(reel.pk, [])
        )
    ]


def name_of_line(order: Order, line: OrderLine) -> str:
    """Return how a line is named in a plan: "O-00012.1", as in the forms."""
    return f"{order.code}.{line.position}"


def _cut_for(lines: Sequence[OrderLine]) -> Mapping[int | None, list[CutPiece]]:
    found: dict[int | None, list[CutPiece]] = {line.pk: [] for line in lines}
    pieces = CutPiece.objects.filter(order_line__in=lines, is_reversed=False)
    for piece in pieces.select_related("reel").order_by("id"):
        found[piece.order_line_id].append(piece)
    return found


def _bound(line: OrderLine, cut: Mapping[int | None, list[CutPiece]]) -> list[CutPiece]:
    """Return the pieces whose heats the rest of the line must have."""
    return cut[line.pk] if line.together == OrderLine.Together.ONE_HEAT else []


def _demand(
    order: Order,
    line: OrderLine,
    pieces: Sequence[CutPiece],
    heats: Mapping[int, Mapping[int, Sequence[Stretch]]],
) -> CutDemand | None:
    length_mm, quantity = line.length_mm, line.quantity - len(pieces)
    if not line.as_one_length:
        cut_mm = sum(piece.length_mm for piece in pieces)
        length_mm, quantity = line.length_mm * line.quantity - cut_mm, 1
    if length_mm <= 0 or quantity <= 0:
        return None
    together = Together(line.together)
    return CutDemand(
        line=name_of_line(order, line),
        designation=line.designation,
        length_mm=length_mm,
        quantity=quantity,
        is_one_length=line.as_one_length,
        together=together,
        bound_reel=_reels_of(pieces) if together is Together.ONE_REEL else "",
        bound_heats=_heats_of(pieces, heats) if together is Together.ONE_HEAT else None,
    )


def _reels_of(pieces: Sequence[CutPiece]) -> str:
    """Name the reel of the pieces; several, which no reel is named like, leave no choice."""
    return ", ".join(dict.fromkeys(piece.reel.code for piece in pieces))


def _heats_of(
    pieces: Sequence[CutPiece], heats: Mapping[int, Mapping[int, Sequence[Stretch]]]
) -> frozenset[int] | None:
    """Return the heats of the pieces; no heats at all where they differ or are not known."""
    if not pieces:
        return None
    found = {
        heats_of_all(heats[piece.reel_id], Stretch(piece.from_mm, piece.to_mm)) for piece in pieces
    }
    only = found.pop()
    return frozenset() if found or only is None else only
