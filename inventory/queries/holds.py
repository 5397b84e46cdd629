"""Which standing holds reach one thing, directly or through what it was made from.

Rope is followed upward, so the cost is that of the thing's own history. A hold on a heat or on a
stretch of a reel reaches the metres that hold it and no others; a hold on a piece reaches the
reels wound from it. For everything under hold at once see `inventory.queries.held`.
"""

from collections.abc import Iterable

from django.db.models import Q

from inventory.models import Assembly, CutPiece, FittingLot, Heat, Hold, Reel, TestingMachine
from inventory.models.hold import SUBJECTS
from inventory.queries.genealogy_sql import Sql, rows, up
from inventory.queries.seeds import up_from_assembly, up_from_pieces, up_from_stretch
from inventory.queries.stretches import joined
from inventory.rules.metres import Affine, Stretch


def holds_on_reel(
    reel: Reel, *, from_mm: int | None = None, to_mm: int | None = None
) -> list[Hold]:
    """Return the holds that reach any metre of a reel, or of a stretch of it in mm.

    Metres that were cut away count as well: `held_stretches` tells where the holds are.

    Raises:
        Refusal: the stretch is empty or starts before metre 0.

    """
    asked = Stretch(0 if from_mm is None else from_mm, reel.length_mm if to_mm is None else to_mm)
    seed = up_from_stretch(reel_id=reel.pk, from_mm=asked.from_mm, to_mm=asked.to_mm)
    return _found_by(_reaching(seed))


def holds_on_piece(piece: CutPiece) -> list[Hold]:
    """Return the holds on a piece and on the rope it was cut from."""
    return holds_on_pieces([piece])


def holds_on_pieces(pieces: Iterable[CutPiece]) -> list[Hold]:
    """Return the holds on any of these pieces and on the rope they were cut from, each once."""
    ids = [piece.pk for piece in pieces]
    if not ids:
        return []
    marks = ", ".join(["%s"] * len(ids))
    walk = _reaching(up_from_pieces(ids))
    return _found_by(walk.then(f"{_ON_PIECES} ({marks})", *ids))


def holds_on_assembly(assembly: Assembly) -> list[Hold]:
    """Return the holds on an assembly, on its pieces, their rope, its fittings and their steel."""
    walk = _reaching(up_from_assembly(assembly.pk))
    return _found_by(walk.then(_ON_ASSEMBLY, *[assembly.pk] * 4))


def holds_on_lot(lot: FittingLot) -> list[Hold]:
    """Return the holds on a fitting lot and on the heat it was made of."""
    of_heat = Q() if lot.heat_id is None else Q(heat_id=lot.heat_id)
    return _standing(Q(fitting_lot=lot) | of_heat)


def holds_on_heat(heat: Heat) -> list[Hold]:
    """Return the holds on a heat itself."""
    return _standing(Q(heat=heat))


def holds_on_machine(machine: TestingMachine) -> list[Hold]:
    """Return the holds on a testing machine."""
    return _standing(Q(testing_machine=machine))


def held_stretches(reel: Reel) -> list[Stretch]:
    """Return the metres of a reel that are under hold, those cut away included, in order."""
    walk = up(up_from_stretch(reel_id=reel.pk, from_mm=0, to_mm=reel.length_mm)).then(_REACH)
    found = rows(walk.then("SELECT hold_id, from_mm, to_mm, sign, offset_mm FROM reach"))
    return joined(
        # x = sign * (metre - offset) turns the map of `up` round.
        Affine(sign, -sign * offset_mm).stretch_at(Stretch(from_mm, to_mm))
        for hold_id, from_mm, to_mm, sign, offset_mm in found
        if hold_id is not None
    )


def _reaching(seed: Sql) -> Sql:
    """Return a SELECT of the ids of holds that reach the seed's rope; more may be UNIONed."""
    return up(seed).then(_REACH).then("SELECT hold_id FROM reach")


def _found_by(query: Sql) -> list[Hold]:
    ids = {hold_id for (hold_id,) in rows(query)} - {None}
    return _standing(Q(id__in=ids)) if ids else []


def _standing(condition: Q) -> list[Hold]:
    found = Hold.objects.filter(condition, released_at=None).order_by("placed_at", "id")
    return list(found.select_related(*SUBJECTS, "heat__mill", "placed_by"))


# `reach` has the part of a hold that lies in the asked rope, in metres of the reel it lies on.
# A hold on the piece that a reel was wound from reaches every metre of that reel.
# LEFT JOIN fixes the order of the joins, from the walk outward; where there is no hold, hold_id is
# null, and only Python leaves it out: asked in WHERE, SQLite would change the order again.
_REACH = """, reach (hold_id, from_mm, to_mm, sign, offset_mm) AS (
    SELECT hold.id,
      CASE WHEN hold.from_mm > up.from_mm THEN hold.from_mm ELSE up.from_mm END,
      CASE WHEN hold.to_mm < up.to_mm THEN hold.to_mm ELSE up.to_mm END,
      up.sign, up.offset_mm
    FROM up
    LEFT JOIN inventory_hold hold ON hold.released_at IS NULL AND hold.reel_id = up.reel_id
      AND (hold.from_mm IS NULL OR (hold.from_mm < up.to_mm AND hold.to_mm > up.from_mm))
  UNION ALL
    SELECT hold.id,
      CASE WHEN tie.from_mm > up.from_mm THEN tie.from_mm ELSE up.from_mm END,
      CASE WHEN tie.to_mm < up.to_mm THEN tie.to_mm ELSE up.to_mm END,
      up.sign, up.offset_mm
    FROM up
    LEFT JOIN inventory_reelheat tie ON tie.reel_id = up.reel_id
      AND (tie.from_mm IS NULL OR (tie.from_mm < up.to_mm AND tie.to_mm > up.from_mm))
    LEFT JOIN inventory_hold hold ON hold.released_at IS NULL AND hold.heat_id = tie.heat_id
  UNION ALL
    SELECT hold.id, up.from_mm, up.to_mm, up.sign, up.offset_mm
    FROM up
    LEFT JOIN inventory_reel reel ON reel.id = up.reel_id
    LEFT JOIN inventory_hold hold
      ON hold.released_at IS NULL AND hold.piece_id = reel.wound_from_id
)"""

_ON_PIECES = "UNION SELECT id FROM inventory_hold WHERE released_at IS NULL AND piece_id IN"

_ON_ASSEMBLY = """
  UNION SELECT id FROM inventory_hold WHERE released_at IS NULL AND assembly_id = %s
  UNION SELECT hold.id FROM inventory_hold hold
    JOIN inventory_assemblypiece tie ON tie.piece_id = hold.piece_id
    WHERE hold.released_at IS NULL AND tie.assembly_id = %s
  UNION SELECT hold.id FROM inventory_hold hold
    JOIN inventory_fittinguse used ON used.lot_id = hold.fitting_lot_id
    JOIN inventory_termination ending ON ending.id = used.termination_id
    JOIN inventory_assemblypiece tie ON tie.id = ending.assembly_piece_id
    WHERE hold.released_at IS NULL AND tie.assembly_id = %s
  UNION SELECT hold.id FROM inventory_hold hold
    JOIN inventory_fittinglot lot ON lot.heat_id = hold.heat_id
    JOIN inventory_fittinguse used ON used.lot_id = lot.id
    JOIN inventory_termination ending ON ending.id = used.termination_id
    JOIN inventory_assemblypiece tie ON tie.id = ending.assembly_piece_id
    WHERE hold.released_at IS NULL AND tie.assembly_id = %s"""
