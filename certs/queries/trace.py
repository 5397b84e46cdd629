"""Tells the whole story of a thing as JSON, and what a suspect heat, stretch or lot reaches.

Each story costs a fixed number of queries for a kind of thing, whatever was made of it. Customers
are named: it is for staff and auditors, never for the public page.
"""

from certs.queries.trace_back_shapes import LotRow, Point, RopeBack
from certs.queries.trace_claims import breaking_tests_on_reels
from certs.queries.trace_downstream import Asking, downstream_of, of_stretch
from certs.queries.trace_find import CannotTrace, find_traceable
from certs.queries.trace_rows import asked_row, beside_rows, heats_back, lot_rows, rope_back
from certs.queries.trace_shapes import Counts, Downstream, Recall, Story
from certs.queries.trace_wires import wire_tests_on_reels
from inventory.models import Assembly, CutPiece, FittingLot, Heat, Reel
from inventory.queries.neighbours import neighbours
from inventory.queries.trace_back import (
    RopeTrace,
    back_from_assembly,
    back_from_piece,
    back_from_reel,
    point_on_piece,
)
from inventory.rules.metres import Stretch

AROUND_MM = 10_000
"""How far along the rope a point looks for neighbours, to either side; own choice."""


def trace_code(
    code: str, *, at_mm: int | None = None, from_mm: int | None = None, to_mm: int | None = None
) -> Story:
    """Tell where the thing with this code came from, what was made of it and what is claimed.

    Args:
        code: of a thing, a test, a certificate or a tag, as people type it.
        at_mm: a point: along a piece from its near end, or on a reel's own scale.
        from_mm: with `to_mm`: the stretch of a reel that is asked about.

    Raises:
        CannotTrace: the code is unknown, or leads to none or several things.
        Refusal: the point or the stretch is not on the piece or reel.
    """
    found = find_traceable(code)
    stretch = of_stretch(found.thing, from_mm=from_mm, to_mm=to_mm)
    asking = Asking(
        thing=found.thing,
        asked_as=found.asked_as,
        from_mm=stretch.from_mm if stretch else None,
        to_mm=stretch.to_mm if stretch else None,
    )
    return story_of(asking, at_mm=at_mm)


def story_of(asking: Asking, *, at_mm: int | None = None) -> Story:
    """Tell the whole story of what is asked about; see `trace_code`."""
    thing, from_mm, to_mm = asking.thing, asking.from_mm, asking.to_mm
    ropes, lots, mill_reel_ids = _back(asking)
    return {
        "asked": asked_row(thing, asked_as=asking.asked_as, from_mm=from_mm, to_mm=to_mm),
        "back": ropes,
        "fitting_lots": lots,
        "rope_tests": breaking_tests_on_reels(mill_reel_ids),
        "wire_tests": wire_tests_on_reels(mill_reel_ids),
        "point": None if at_mm is None else _point(asking, at_mm),
        **downstream_of(asking),
    }


def recall_heat(heat: Heat) -> Recall:
    """Tell all rope and fittings of a heat, and where they went."""
    return recall_of(Asking(thing=heat))


def recall_lot(lot: FittingLot) -> Recall:
    """Tell every assembly with fittings of a lot, and where it went."""
    return recall_of(Asking(thing=lot))


def recall_reel(reel: Reel, *, from_mm: int | None = None, to_mm: int | None = None) -> Recall:
    """Tell all that was made of a reel, or of exactly the stretch [from_mm, to_mm) of it.

    Raises:
        CannotTrace: the stretch passes the end of the reel.
        Refusal: it is empty, or starts before metre 0.
    """
    asked = of_stretch(reel, from_mm=from_mm, to_mm=to_mm) or Stretch(0, reel.length_mm)
    return recall_of(Asking(thing=reel, from_mm=asked.from_mm, to_mm=asked.to_mm))


def recall_of(asking: Asking) -> Recall:
    """Tell all that was made of what is asked about, whatever it is, and where it went."""
    below = downstream_of(asking)
    return {
        "asked": asked_row(asking.thing, from_mm=asking.from_mm, to_mm=asking.to_mm),
        "counts": _counts(below),
        **below,
    }


def _back(asking: Asking) -> tuple[list[RopeBack], list[LotRow], set[int]]:
    """Trace each length of rope in the thing; with its fittings, and the ids of the mill's reels.

    A heat, or a lot of fittings, holds no rope that came from elsewhere.
    """
    traces: list[tuple[str, RopeTrace]] = []
    lots: tuple[FittingLot, ...] = ()
    thing = asking.thing
    match thing:
        case Reel():
            trace = back_from_reel(thing, from_mm=asking.from_mm, to_mm=asking.to_mm)
            traces = [("", trace)]
        case CutPiece():
            traces = [(thing.code, back_from_piece(thing))]
        case Assembly():
            found = back_from_assembly(thing)
            traces = [(trace.piece.code, trace) for trace in found.pieces]
            lots = found.fitting_lots
        case FittingLot():
            lots = (thing,)
    ropes = [rope_back(trace, piece=piece) for piece, trace in traces]
    return ropes, lot_rows(lots), {trace.mill_reel.reel_id for _, trace in traces}


def _point(asking: Asking, at_mm: int) -> Point:
    thing, as_ever = asking.thing, asking.as_ever
    if isinstance(thing, CutPiece):
        metres = point_on_piece(thing, mm_from_near_end=at_mm)
        return _point_on(thing.reel, metres[0].metre_mm, at_mm=at_mm, as_ever=as_ever)
    if isinstance(thing, Reel):
        return _point_on(thing, at_mm, at_mm=at_mm, as_ever=as_ever)
    raise CannotTrace("A point lies on a piece or on a reel; give the code of one.")


def _point_on(reel: Reel, metre_mm: int, *, at_mm: int, as_ever: bool) -> Point:
    around = neighbours(reel, metre_mm=metre_mm, span_mm=AROUND_MM, reversed_too=as_ever)
    # The last point of a reel belongs to the millimetre before it.
    from_mm = min(metre_mm, reel.length_mm - 1)
    trace = back_from_reel(reel, from_mm=from_mm, to_mm=from_mm + 1)
    return {
        "at_mm": at_mm,
        "on_reels": [
            {"reel": one.reel_code, "metre_mm": one.at(metre_mm)} for one in trace.ancestors
        ],
        "heats": heats_back(trace.heats),
        "around": beside_rows(around),
    }


def _counts(below: Downstream) -> Counts:
    return {
        "pieces": len(below["pieces"]),
        "delivered_pieces": sum(1 for piece in below["pieces"] if piece["delivery"]),
        "assemblies": len(below["assemblies"]),
        "customers": len(below["customers"]),
        "certificates_in_force": sum(1 for c in below["certificates"] if c["state"] == "issued"),
    }
