"""Backward: from a stretch, a piece or an assembly to the mill's reel, its heats and documents.

Carries sign and offset through every rewind, so that any point of a piece has its metre on every
reel that it was ever on. Each answer costs one recursive query and a fixed number of plain ones.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from inventory.models import Assembly, CutPiece, FittingLot, MillDocument, Reel, ReelHeat
from inventory.queries.back_traces import (
    Ancestor,
    AssemblyTrace,
    BackTrace,
    HeatOnStretch,
    PointOnReel,
    RopeTrace,
)
from inventory.queries.genealogy_sql import Sql, rows, up
from inventory.queries.seeds import up_from_pieces, up_from_stretch
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres

__all__ = [
    "Ancestor",
    "AssemblyTrace",
    "BackTrace",
    "HeatOnStretch",
    "PointOnReel",
    "RopeTrace",
    "back_from_assembly",
    "back_from_piece",
    "back_from_pieces",
    "back_from_reel",
    "point_on_piece",
    "trace_back",
]


def trace_back(*, reel_id: int, from_mm: int, to_mm: int) -> list[Ancestor]:
    """Return every reel that this stretch was on: the asked reel first, the mill's reel last."""
    seed = up_from_stretch(reel_id=reel_id, from_mm=from_mm, to_mm=to_mm)
    return [ancestor for _, ancestor in _ancestors(seed)]


def back_from_reel(
    reel: Reel, *, from_mm: int | None = None, to_mm: int | None = None
) -> RopeTrace:
    """Trace a reel, or a stretch of it in mm, to heats and documents."""
    ancestors = trace_back(
        reel_id=reel.pk,
        from_mm=0 if from_mm is None else from_mm,
        to_mm=reel.length_mm if to_mm is None else to_mm,
    )
    reel_ids = {ancestor.reel_id for ancestor in ancestors}
    return RopeTrace(
        ancestors=tuple(ancestors),
        heats=tuple(_heats(ancestors, _ties_by_reel(reel_ids))),
        mill_documents=_documents(ancestors, _document_by_reel(reel_ids)),
    )


def back_from_piece(piece: CutPiece) -> BackTrace:
    """Trace a cut piece to heats and documents."""
    return back_from_pieces([piece])[0]


def back_from_pieces(pieces: Sequence[CutPiece]) -> list[BackTrace]:
    """Trace many pieces at once, with as many queries as for one; in the order given."""
    if not pieces:
        return []
    by_piece: defaultdict[int, list[Ancestor]] = defaultdict(list)
    for piece_id, ancestor in _ancestors(up_from_pieces(piece.pk for piece in pieces)):
        by_piece[piece_id].append(ancestor)
    reel_ids = {ancestor.reel_id for found in by_piece.values() for ancestor in found}
    ties, documents = _ties_by_reel(reel_ids), _document_by_reel(reel_ids)
    return [
        BackTrace(
            piece=piece,
            ancestors=tuple(by_piece[piece.pk]),
            heats=tuple(_heats(by_piece[piece.pk], ties)),
            mill_documents=_documents(by_piece[piece.pk], documents),
        )
        for piece in pieces
    ]


def back_from_assembly(assembly: Assembly) -> AssemblyTrace:
    """Trace every piece and fitting of an assembly to heats and documents."""
    pieces = CutPiece.objects.filter(assembly_tie__assembly=assembly)
    lots = FittingLot.objects.filter(uses__termination__assembly_piece__assembly=assembly)
    return AssemblyTrace(
        assembly=assembly,
        pieces=tuple(back_from_pieces(list(pieces.order_by("assembly_tie__position")))),
        fitting_lots=tuple(
            lots.select_related("maker", "heat__mill", "document__mill", "document__file")
            .distinct()
            .order_by("code")
        ),
    )


def point_on_piece(piece: CutPiece, *, mm_from_near_end: int) -> list[PointOnReel]:
    """Return where a point of a piece lies on each reel, the one it was cut from first.

    Raises:
        Refusal: the point is not on the piece.

    """
    if not 0 <= mm_from_near_end <= piece.length_mm:
        message = (
            f"{format_metres(mm_from_near_end)} from the near end is not on piece {piece.code}, "
            f"which is {format_metres(piece.length_mm)} long."
        )
        raise Refusal(message, field="mm_from_near_end")
    point = piece.from_mm + mm_from_near_end
    found = trace_back(reel_id=piece.reel_id, from_mm=piece.from_mm, to_mm=piece.to_mm)
    return [PointOnReel(ancestor.reel_code, ancestor.at(point)) for ancestor in found]


def _ancestors(seed: Sql) -> Iterator[tuple[int, Ancestor]]:
    """Yield (key of the seed, ancestor), nearest first within a key."""
    for key, *values in rows(up(seed).then(_ANCESTORS)):
        yield key, Ancestor(*values)


_ANCESTORS = """
    SELECT up.key, up.reel_id, reel.code, up.from_mm, up.to_mm, up.sign, up.offset_mm, up.depth,
      COALESCE(cut.code, '')
    FROM up
    JOIN inventory_reel reel ON reel.id = up.reel_id
    LEFT JOIN inventory_cutpiece cut ON cut.id = reel.wound_from_id
    ORDER BY up.key, up.depth"""


def _ties_by_reel(reel_ids: Iterable[int]) -> Mapping[int, Sequence[ReelHeat]]:
    found: defaultdict[int, list[ReelHeat]] = defaultdict(list)
    ties = ReelHeat.objects.filter(reel_id__in=reel_ids).select_related("heat__mill")
    for tie in ties.order_by("heat__number", "id"):
        found[tie.reel_id].append(tie)
    return found


def _document_by_reel(reel_ids: Iterable[int]) -> Mapping[int, MillDocument]:
    reels = Reel.objects.filter(id__in=reel_ids, mill_document__isnull=False)
    return {
        reel.pk: reel.mill_document
        for reel in reels.select_related("mill_document__mill", "mill_document__file")
        if reel.mill_document is not None
    }


def _heats(
    ancestors: Iterable[Ancestor], ties: Mapping[int, Sequence[ReelHeat]]
) -> Iterator[HeatOnStretch]:
    """Yield the heats of the rope's own metres, along each reel that heats are tied to."""
    for ancestor in ancestors:
        asked = Stretch(ancestor.from_mm, ancestor.to_mm)
        parts = [(tie.heat, _part(tie, asked)) for tie in ties.get(ancestor.reel_id, ())]
        found = [
            HeatOnStretch(heat, ancestor.reel_code, part.from_mm, part.to_mm)
            for heat, part in parts
            if part is not None
        ]
        yield from sorted(found, key=lambda heat: heat.from_mm)


def _part(tie: ReelHeat, asked: Stretch) -> Stretch | None:
    """Return what of the asked metres holds the heat; a tie without a stretch is to them all."""
    if tie.from_mm is None or tie.to_mm is None:
        return asked
    return asked.clip(Stretch(tie.from_mm, tie.to_mm))


def _documents(
    ancestors: Iterable[Ancestor], by_reel: Mapping[int, MillDocument]
) -> tuple[MillDocument, ...]:
    found = (by_reel.get(ancestor.reel_id) for ancestor in ancestors)
    return tuple(dict.fromkeys(paper for paper in found if paper is not None))
