"""Everything that is under hold now: metres of reels, pieces, assemblies, one query each.

Follows every standing hold downward, so the cost is that of what is held, not of the stock. What
holds one thing is told by `inventory.queries.holds`; the two agree.
"""

from collections import defaultdict

from inventory.queries.forward_select import piece_ids
from inventory.queries.genealogy_sql import Sql, down, rows
from inventory.queries.stretches import joined
from inventory.rules.metres import Stretch


def held_reels() -> dict[int, list[Stretch]]:
    """Return for each reel under hold, by id, its metres under hold, in order.

    Metres that were cut away count as well.
    """
    found: defaultdict[int, list[Stretch]] = defaultdict(list)
    for reel_id, length_mm, from_mm, to_mm in rows(down(_HELD_ROPE).then(_METRES)):
        first_mm, last_mm = max(from_mm, 0), min(to_mm, length_mm)
        if first_mm < last_mm:
            found[reel_id].append(Stretch(first_mm, last_mm))
    return {reel_id: joined(parts) for reel_id, parts in found.items()}


def held_pieces() -> set[int]:
    """Return the ids of the cut pieces under hold."""
    return {piece_id for (piece_id,) in rows(_held_pieces())}


def held_assemblies() -> set[int]:
    """Return the ids of the assemblies under hold, by their pieces, fittings or themselves."""
    by_piece = Sql("SELECT assembly_id FROM inventory_assemblypiece WHERE piece_id IN (")
    pieces = _held_pieces()
    query = by_piece.then(pieces.sql, *pieces.params).then(")").then(_OTHER_ASSEMBLIES)
    return {assembly_id for (assembly_id,) in rows(query)}


def _held_pieces() -> Sql:
    return piece_ids(down(_HELD_ROPE)).then(
        "UNION SELECT piece_id FROM inventory_hold "
        "WHERE released_at IS NULL AND piece_id IS NOT NULL"
    )


_METRES = """
    SELECT down.reel_id, reel.length_mm, down.from_mm, down.to_mm
    FROM down LEFT JOIN inventory_reel reel ON reel.id = down.reel_id
    WHERE down.reel_id IS NOT NULL"""

# A hold on a piece is no hold on the reel it was cut from, but on the reels wound from it.
# LEFT JOIN fixes the order of the joins, from the few standing holds outward; the rows that it
# leaves without a reel lead nowhere.
_HELD_ROPE = Sql(
    """SELECT hold.reel_id, COALESCE(hold.from_mm, 0) AS from_mm,
      COALESCE(hold.to_mm, reel.length_mm) AS to_mm, 'rope' AS through
    FROM inventory_hold hold LEFT JOIN inventory_reel reel ON reel.id = hold.reel_id
    WHERE hold.released_at IS NULL
  UNION ALL
    SELECT tie.reel_id, COALESCE(tie.from_mm, 0), COALESCE(tie.to_mm, reel.length_mm), 'rope'
    FROM inventory_hold hold
    LEFT JOIN inventory_reelheat tie ON tie.heat_id = hold.heat_id
    LEFT JOIN inventory_reel reel ON reel.id = tie.reel_id
    WHERE hold.released_at IS NULL
  UNION ALL
    SELECT wound.id, 0, wound.length_mm, 'rope'
    FROM inventory_hold hold
    LEFT JOIN inventory_reel wound ON wound.wound_from_id = hold.piece_id
    WHERE hold.released_at IS NULL"""
)

_OTHER_ASSEMBLIES = """
  UNION SELECT assembly_id FROM inventory_hold
    WHERE released_at IS NULL AND assembly_id IS NOT NULL
  UNION SELECT tie.assembly_id
    FROM inventory_hold hold
    JOIN inventory_fittinglot lot ON lot.id = hold.fitting_lot_id OR lot.heat_id = hold.heat_id
    JOIN inventory_fittinguse used ON used.lot_id = lot.id
    JOIN inventory_termination ending ON ending.id = used.termination_id
    JOIN inventory_assemblypiece tie ON tie.id = ending.assembly_piece_id
    WHERE hold.released_at IS NULL"""
