"""From what a trace starts, as SQL: one SELECT for each kind of thing that can be asked about.

`for_up` seeds give (key, reel_id, from_mm, to_mm), `for_down` seeds (reel_id, from_mm, to_mm,
through); `inventory.queries.genealogy_sql` says what becomes of them.
"""

from collections.abc import Iterable
from enum import StrEnum

from inventory.models import Assembly, CutPiece, FittingLot, Heat, Reel
from inventory.queries.genealogy_sql import Sql


class Through(StrEnum):
    """By what a thing was reached."""

    ROPE = "rope"
    PIECE = "piece"
    FITTING = "fitting"


def up_from_stretch(*, reel_id: int, from_mm: int, to_mm: int) -> Sql:
    """Seed `up` with one stretch of a reel, in mm; from_mm = to_mm asks about a point."""
    return Sql(
        "SELECT 0 AS key, CAST(%s AS bigint) AS reel_id, CAST(%s AS bigint) AS from_mm, "
        "CAST(%s AS bigint) AS to_mm",
        (reel_id, from_mm, to_mm),
    )


def up_from_reels(reel_ids: Iterable[int]) -> Sql:
    """Seed `up` with whole reels, at least one; the key of each is its id."""
    ids = tuple(reel_ids)
    marks = ", ".join(["%s"] * len(ids))
    return Sql(_UP_FROM_REEL).then(f"WHERE id IN ({marks})", *ids)


def up_from_pieces(piece_ids: Iterable[int]) -> Sql:
    """Seed `up` with cut pieces, at least one; the key of each is its id."""
    ids = tuple(piece_ids)
    marks = ", ".join(["%s"] * len(ids))
    return Sql(_UP_FROM_PIECE).then(f"WHERE id IN ({marks})", *ids)


def up_from_assembly(assembly_id: int) -> Sql:
    """Seed `up` with the pieces of an assembly; the key of each is its id."""
    return Sql(_UP_FROM_PIECE).then(f"WHERE id IN {_OF_ASSEMBLY}", assembly_id)


def down_from_stretch(*, reel_id: int, from_mm: int, to_mm: int) -> Sql:
    """Seed `down` with one stretch of a reel, in mm."""
    return Sql(
        "SELECT CAST(%s AS bigint) AS reel_id, CAST(%s AS bigint) AS from_mm, "
        "CAST(%s AS bigint) AS to_mm, 'rope' AS through",
        (reel_id, from_mm, to_mm),
    )


def down_from(
    source: Heat | Reel | FittingLot | CutPiece | Assembly,
    *,
    from_mm: int | None = None,
    to_mm: int | None = None,
    reversed_too: bool = False,
) -> Sql:
    """Seed `down` with a thing; `from_mm` and `to_mm` narrow a reel and are ignored otherwise.

    A reversed cut leads nowhere, unless it is asked for: on an earlier day it stood.
    """
    from_piece = _FROM_ANY_PIECE if reversed_too else f"{_FROM_ANY_PIECE} NOT cut.is_reversed AND"
    match source:
        case Reel():
            return down_from_stretch(
                reel_id=source.pk,
                from_mm=0 if from_mm is None else from_mm,
                to_mm=source.length_mm if to_mm is None else to_mm,
            )
        case Heat():
            in_rope = Sql(_FROM_HEAT_IN_ROPE, (source.pk,))
            return in_rope.then(f"UNION ALL {_FROM_FITTING} WHERE lot.heat_id = %s", source.pk)
        case FittingLot():
            return Sql(_FROM_FITTING).then("WHERE lot.id = %s", source.pk)
        case CutPiece():
            return Sql(from_piece).then("cut.id = %s", source.pk)
        case Assembly():
            return Sql(from_piece).then(f"cut.id IN {_OF_ASSEMBLY}", source.pk)


_OF_ASSEMBLY = "(SELECT piece_id FROM inventory_assemblypiece WHERE assembly_id = %s)"

_UP_FROM_REEL = (
    "SELECT id AS key, id AS reel_id, CAST(0 AS bigint) AS from_mm, length_mm AS to_mm "
    "FROM inventory_reel"
)

_UP_FROM_PIECE = "SELECT id AS key, reel_id, from_mm, to_mm FROM inventory_cutpiece"

# A tie without a stretch is to the whole reel.
_FROM_HEAT_IN_ROPE = """SELECT tie.reel_id, COALESCE(tie.from_mm, 0) AS from_mm,
      COALESCE(tie.to_mm, reel.length_mm) AS to_mm, 'rope' AS through
    FROM inventory_reelheat tie JOIN inventory_reel reel ON reel.id = tie.reel_id
    WHERE tie.heat_id = %s"""

# Pieces on a reel do not overlap, so that a piece's own metres reach that piece and no other.
_FROM_ANY_PIECE = """SELECT cut.reel_id, cut.from_mm, cut.to_mm, 'piece' AS through
    FROM inventory_cutpiece cut WHERE"""

_FROM_FITTING = """SELECT cut.reel_id, cut.from_mm, cut.to_mm, 'fitting' AS through
    FROM inventory_fittinglot lot
    JOIN inventory_fittinguse used ON used.lot_id = lot.id
    JOIN inventory_termination ending ON ending.id = used.termination_id
    JOIN inventory_assemblypiece tie ON tie.id = ending.assembly_piece_id
    JOIN inventory_cutpiece cut ON cut.id = tie.piece_id AND NOT cut.is_reversed"""
