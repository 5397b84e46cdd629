"""Folds the rows of a forward trace into things, each once.

Rope may be reached on several ways, as when a heat is tied to two stretches of one reel. A thing
reached through its rope is told by its rope; the fitting on it is told only if nothing else
reached it.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from inventory.models import FittingLot
from inventory.queries.forward_rows import (
    Forward,
    ForwardAssembly,
    ForwardCustomer,
    ForwardDelivery,
    ForwardPiece,
    ForwardReel,
)
from inventory.queries.forward_select import CutRow, ReachedRow, as_moment
from inventory.queries.seeds import Through
from inventory.queries.stretches import joined
from inventory.rules.metres import Stretch

_RANK = [Through.ROPE, Through.PIECE, Through.FITTING]


def fold(rows: Sequence[ReachedRow], *, fitting_lots: Iterable[FittingLot] = ()) -> Forward:
    """Return everything in the rows, each thing once, in stable order."""
    cuts = [row.cut for row in rows if row.cut is not None]
    return Forward(
        pieces=tuple(fold_pieces(rows)),
        reels=tuple(sorted(_reels(rows), key=lambda reel: (reel.depth, reel.code))),
        assemblies=_assemblies(cuts),
        deliveries=_deliveries(cuts),
        customers=_customers(cuts),
        fitting_lots=tuple(fitting_lots),
    )


def fold_pieces(rows: Iterable[ReachedRow]) -> list[ForwardPiece]:
    """Return the pieces in the rows, each once, along the reel that was asked about."""
    ways: defaultdict[int, list[tuple[ReachedRow, CutRow]]] = defaultdict(list)
    for row in rows:
        if row.cut is not None:
            ways[row.cut.piece_id].append((row, row.cut))
    pieces = [_piece([row for row, _ in found], found[0][1]) for found in ways.values()]
    return sorted(pieces, key=lambda p: (p.asked_reel_code, p.asked_from_mm, p.depth, p.code))


def _piece(ways: Sequence[ReachedRow], cut: CutRow) -> ForwardPiece:
    best = _best(ways)
    asked = best[0].on_asked.stretch_at(cut.stretch)
    return ForwardPiece(
        piece_id=cut.piece_id,
        code=cut.code,
        purpose=cut.purpose,
        reel_id=best[0].reel_id,
        reel_code=best[0].reel_code,
        from_mm=cut.from_mm,
        to_mm=cut.to_mm,
        asked_reel_id=best[0].asked_reel_id,
        asked_reel_code=best[0].asked_reel_code,
        asked_from_mm=asked.from_mm,
        asked_to_mm=asked.to_mm,
        touched=tuple(sorted(best[0].on_asked.stretch_at(s) for s in _touched(best, cut.stretch))),
        depth=best[0].depth,
        through=best[0].through,
        wound_reel_code=cut.wound_reel_code or "",
        assembly_id=cut.assembly_id,
        assembly_code=cut.assembly_code or "",
        delivery_id=cut.delivery_id,
        delivery_code=cut.delivery_code or "",
        customer_id=cut.customer_id,
        customer_code=cut.customer_code or "",
    )


def _reels(rows: Iterable[ReachedRow]) -> Iterator[ForwardReel]:
    """Yield the reels; one that only lent its metres to name a piece was not reached itself."""
    ways: defaultdict[int, list[ReachedRow]] = defaultdict(list)
    for row in rows:
        if row.depth > 0 or row.through == Through.ROPE:
            ways[row.reel_id].append(row)
    for found in ways.values():
        best = _best(found)
        whole = Stretch(0, best[0].length_mm)
        touched = _touched(best, whole)
        if touched:
            asked = best[0].on_asked.stretch_at(whole)
            yield ForwardReel(
                reel_id=best[0].reel_id,
                code=best[0].reel_code,
                origin=best[0].origin,
                depth=best[0].depth,
                from_mm=touched[0].from_mm,
                to_mm=touched[-1].to_mm,
                touched=touched,
                asked_reel_code=best[0].asked_reel_code,
                asked_from_mm=asked.from_mm,
                asked_to_mm=asked.to_mm,
                wound_from_code=best[0].wound_from_code,
            )


def _best(ways: Sequence[ReachedRow]) -> list[ReachedRow]:
    """Return the ways that tell the most: through rope if any, and the longest of them first."""
    ranked = sorted(ways, key=lambda row: (_RANK.index(Through(row.through)), -row.depth))
    return [row for row in ranked if row.through == ranked[0].through]


def _touched(ways: Iterable[ReachedRow], whole: Stretch) -> tuple[Stretch, ...]:
    parts = (row.part_of(whole) for row in ways)
    return tuple(joined(part for part in parts if part is not None))


def _assemblies(cuts: Iterable[CutRow]) -> tuple[ForwardAssembly, ...]:
    found = {
        ForwardAssembly(
            assembly_id=cut.assembly_id,
            code=cut.assembly_code or "",
            delivery_code=cut.delivery_code or "",
        )
        for cut in cuts
        if cut.assembly_id is not None
    }
    return tuple(sorted(found, key=lambda assembly: assembly.code))


def _deliveries(cuts: Iterable[CutRow]) -> tuple[ForwardDelivery, ...]:
    found = {
        ForwardDelivery(
            delivery_id=cut.delivery_id,
            code=cut.delivery_code or "",
            delivered_at=as_moment(cut.delivered_at),
            customer_code=cut.customer_code or "",
        )
        for cut in cuts
        if cut.delivery_id is not None and cut.delivered_at is not None
    }
    return tuple(sorted(found, key=lambda delivery: delivery.code))


def _customers(cuts: Iterable[CutRow]) -> tuple[ForwardCustomer, ...]:
    found = {
        ForwardCustomer(
            customer_id=cut.customer_id,
            code=cut.customer_code or "",
            name=cut.customer_name or "",
        )
        for cut in cuts
        if cut.customer_id is not None
    }
    return tuple(sorted(found, key=lambda customer: customer.code))
