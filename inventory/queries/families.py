"""Which rope came off one mill reel: the reel itself and every reel wound from it, however often.

One recursive query each way, whatever the number of pieces or reels asked about.
"""

from collections.abc import Collection

from inventory.models import Reel
from inventory.queries.genealogy_sql import Sql, down, rows, up
from inventory.queries.seeds import up_from_pieces
from inventory.queries.trace_back import trace_back


def mill_reel_of(reel: Reel) -> Reel:
    """Return the mill's reel that a reel was wound from; a mill's reel is its own."""
    return Reel.objects.get(pk=_mill_reel_id(reel))


def reels_of_same_rope(reel: Reel) -> Collection[int]:
    """Return the ids of all reels with rope of the same mill reel, wherever it was wound."""
    return families_of([_mill_reel_id(reel)]).keys()


def mill_reels_of_pieces(piece_ids: Collection[int]) -> dict[int, int]:
    """Return for each cut piece the id of the mill's reel that its rope came off."""
    if not piece_ids:
        return {}
    walk = up(up_from_pieces(piece_ids)).then(
        "SELECT up.key, up.reel_id FROM up JOIN inventory_reel root ON root.id = up.reel_id"
        " WHERE root.wound_from_id IS NULL"
    )
    return dict(rows(walk))


def families_of(mill_reel_ids: Collection[int]) -> dict[int, int]:
    """Return for every reel of the families of these mill reels which of them it came off."""
    ids = tuple(mill_reel_ids)
    if not ids:
        return {}
    marks = ", ".join(["%s"] * len(ids))
    seed = Sql(_WHOLE_REELS).then(f"WHERE reel.id IN ({marks})", *ids)
    return dict(rows(down(seed).then("SELECT DISTINCT reel_id, asked_id FROM down")))


def _mill_reel_id(reel: Reel) -> int:
    return trace_back(reel_id=reel.pk, from_mm=0, to_mm=reel.length_mm)[-1].reel_id


_WHOLE_REELS = """SELECT reel.id AS reel_id, CAST(0 AS bigint) AS from_mm,
      reel.length_mm AS to_mm, 'rope' AS through
    FROM inventory_reel reel"""
