"""Finds the standing holds of a trace: on what was asked about, and on what was made of it."""

from collections.abc import Iterable

from django.db.models import Q
from django.db.models.expressions import RawSQL

from certs.queries.trace_find import Traceable
from certs.queries.trace_shapes import HoldRow
from inventory.models import Assembly, AssemblyPiece, CutPiece, FittingLot, Heat, Hold, Reel
from inventory.models.hold import SUBJECTS
from inventory.queries.genealogy_sql import Sql
from inventory.queries.holds import (
    holds_on_assembly,
    holds_on_heat,
    holds_on_lot,
    holds_on_piece,
    holds_on_reel,
)
from inventory.queries.trace_forward import Forward
from inventory.rules.metres import Stretch


def hold_rows(
    thing: Traceable,
    *,
    made: Forward,
    reached: Sql,
    from_mm: int | None = None,
    to_mm: int | None = None,
) -> list[HoldRow]:
    """List the holds that reach the thing, then those that stand on a part made of it.

    Args:
        made: all that was made of the thing.
        reached: SELECT of the ids of its pieces.
        from_mm: of a reel: the stretch asked about.
    """
    asked = _on_thing(thing, from_mm=from_mm, to_mm=to_mm)
    seen = {hold.pk for hold in asked}
    parts = [hold for hold in _on_parts(made, reached) if hold.pk not in seen]
    return [*(_row(h, reaches="asked") for h in asked), *(_row(h, reaches="part") for h in parts)]


def _on_thing(thing: Traceable, *, from_mm: int | None, to_mm: int | None) -> list[Hold]:
    match thing:
        case Heat():
            return holds_on_heat(thing)
        case Reel():
            return holds_on_reel(thing, from_mm=from_mm, to_mm=to_mm)
        case CutPiece():
            return holds_on_piece(thing)
        case Assembly():
            return holds_on_assembly(thing)
        case FittingLot():
            return holds_on_lot(thing)


def _on_parts(made: Forward, reached: Sql) -> Iterable[Hold]:
    ids = RawSQL(reached.sql, reached.params)  # noqa: S611 -- made of constants; values are bound
    built_in = AssemblyPiece.objects.filter(piece_id__in=ids).values("assembly_id")
    touched = {reel.reel_id: reel.touched for reel in made.reels}
    found = Hold.objects.filter(
        Q(piece_id__in=ids)
        | Q(assembly_id__in=built_in)
        | Q(reel_id__in=touched)
        | Q(fitting_lot__in=made.fitting_lots),
        released_at=None,
    )
    for hold in found.select_related(*SUBJECTS).order_by("placed_at", "id"):
        if hold.reel_id is None or _meets(hold, touched[hold.reel_id]):
            yield hold


def _meets(hold: Hold, touched: Iterable[Stretch]) -> bool:
    if hold.from_mm is None or hold.to_mm is None:
        return True
    held = Stretch(hold.from_mm, hold.to_mm)
    return any(held.overlaps(stretch) for stretch in touched)


def _row(hold: Hold, *, reaches: str) -> HoldRow:
    on = next(name for name in SUBJECTS if getattr(hold, name) is not None)
    return {
        "code": hold.code,
        "on": on,
        "subject": getattr(hold, on).code,
        "from_mm": hold.from_mm,
        "to_mm": hold.to_mm,
        "reason": hold.reason,
        "placed_at": hold.placed_at.isoformat(),
        "reaches": reaches,
    }
