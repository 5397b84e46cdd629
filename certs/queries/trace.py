"""Tells the whole story of a thing as JSON, and what a suspect heat, stretch or lot reaches.

Each story costs a fixed number of queries for a kind of thing, whatever was made of it. Customers
are named: it is for staff and auditors, never for the public page.
"""

from collections import defaultdict
from collections.abc import Sequence

from certs.queries.trace_back_shapes import LotRow, Point, RopeBack
from certs.queries.trace_claims import (
    breaking_tests_downstream,
    breaking_tests_on_reels,
    certificates_downstream,
    proof_tests_downstream,
    tags_downstream,
)
from certs.queries.trace_find import CannotTrace, Traceable, find_traceable
from certs.queries.trace_holds import hold_rows
from certs.queries.trace_rows import (
    asked_row,
    assembly_rows,
    beside_rows,
    delivery_rows,
    heats_back,
    lot_rows,
    piece_rows,
    reel_rows,
    rope_back,
)
from certs.queries.trace_shapes import (
    CertificateRow,
    Counts,
    CustomerRow,
    Downstream,
    Recall,
    Story,
)
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
from inventory.queries.trace_forward import (
    Forward,
    forward_from_assembly,
    forward_from_fitting_lot,
    forward_from_heat,
    forward_from_piece,
    forward_from_reel,
    forward_sql,
)
from inventory.rules.metres import Stretch
from inventory.rules.units import format_metres

AROUND_MM = 10_000
"""How far along the rope a point looks for neighbours, to either side; own choice."""


def trace_code(code: str, *, at_mm: int | None = None) -> Story:
    """Tell where the thing with this code came from, what was made of it and what is claimed.

    Args:
        code: of a thing, a test, a certificate or a tag, as people type it.
        at_mm: a point: along a piece from its near end, or on a reel's own scale.

    Raises:
        CannotTrace: the code is unknown, or leads to none or several things.
        Refusal: the point is not on the piece or reel.
    """
    found = find_traceable(code)
    ropes, lots, mill_reel_ids = _back(found.thing)
    return {
        "asked": asked_row(found.thing, asked_as=found.asked_as),
        "back": ropes,
        "fitting_lots": lots,
        "rope_tests": breaking_tests_on_reels(mill_reel_ids),
        "wire_tests": wire_tests_on_reels(mill_reel_ids),
        "point": None if at_mm is None else _point(found.thing, at_mm),
        **_downstream(found.thing),
    }


def recall_heat(heat: Heat) -> Recall:
    """Tell all rope and fittings of a heat, and where they went."""
    return _recall(heat)


def recall_lot(lot: FittingLot) -> Recall:
    """Tell every assembly with fittings of a lot, and where it went."""
    return _recall(lot)


def recall_reel(reel: Reel, *, from_mm: int | None = None, to_mm: int | None = None) -> Recall:
    """Tell all that was made of a reel, or of exactly the stretch [from_mm, to_mm) of it.

    Raises:
        CannotTrace: the stretch passes the end of the reel.
        Refusal: it is empty, or starts before metre 0.
    """
    asked = Stretch(0 if from_mm is None else from_mm, reel.length_mm if to_mm is None else to_mm)
    if asked.to_mm > reel.length_mm:
        raise CannotTrace(f"Reel {reel.code} ends at {format_metres(reel.length_mm)}.")
    return _recall(reel, from_mm=asked.from_mm, to_mm=asked.to_mm)


def _recall(thing: Traceable, *, from_mm: int | None = None, to_mm: int | None = None) -> Recall:
    below = _downstream(thing, from_mm=from_mm, to_mm=to_mm)
    return {
        "asked": asked_row(thing, from_mm=from_mm, to_mm=to_mm),
        "counts": _counts(below),
        **below,
    }


def _downstream(
    thing: Traceable, *, from_mm: int | None = None, to_mm: int | None = None
) -> Downstream:
    made = _forward(thing, from_mm=from_mm, to_mm=to_mm)
    reached = forward_sql(thing, from_mm=from_mm, to_mm=to_mm)
    certificates = certificates_downstream(reached)
    return {
        "pieces": piece_rows(made.pieces),
        "reels": reel_rows(made.reels),
        "assemblies": assembly_rows(made.assemblies),
        "made_lots": lot_rows(made.fitting_lots),
        "deliveries": delivery_rows(made.deliveries),
        "customers": _customers(made, certificates),
        "certificates": certificates,
        "tags": tags_downstream(reached),
        "breaking_tests": breaking_tests_downstream(reached),
        "proof_tests": proof_tests_downstream(reached),
        "holds": hold_rows(thing, made=made, reached=reached, from_mm=from_mm, to_mm=to_mm),
    }


def _forward(thing: Traceable, *, from_mm: int | None, to_mm: int | None) -> Forward:
    match thing:
        case Heat():
            return forward_from_heat(thing)
        case Reel():
            return forward_from_reel(thing, from_mm=from_mm, to_mm=to_mm)
        case CutPiece():
            return forward_from_piece(thing)
        case Assembly():
            return forward_from_assembly(thing)
        case FittingLot():
            return forward_from_fitting_lot(thing)


def _back(thing: Traceable) -> tuple[list[RopeBack], list[LotRow], set[int]]:
    """Trace each length of rope in the thing; with its fittings, and the ids of the mill's reels.

    A heat, or a lot of fittings, holds no rope that came from elsewhere.
    """
    traces: list[tuple[str, RopeTrace]] = []
    lots: Sequence[FittingLot] = []
    match thing:
        case Reel():
            traces = [("", back_from_reel(thing))]
        case CutPiece():
            traces = [(thing.code, back_from_piece(thing))]
        case Assembly():
            found = back_from_assembly(thing)
            traces = [(trace.piece.code, trace) for trace in found.pieces]
            lots = found.fitting_lots
        case FittingLot():
            lots = [thing]
    ropes = [rope_back(trace, piece=piece) for piece, trace in traces]
    return ropes, lot_rows(lots), {trace.mill_reel.reel_id for _, trace in traces}


def _point(thing: Traceable, at_mm: int) -> Point:
    if isinstance(thing, CutPiece):
        metres = point_on_piece(thing, mm_from_near_end=at_mm)
        return _point_on(thing.reel, metres[0].metre_mm, at_mm=at_mm)
    if isinstance(thing, Reel):
        return _point_on(thing, at_mm, at_mm=at_mm)
    raise CannotTrace("A point lies on a piece or on a reel; give the code of one.")


def _point_on(reel: Reel, metre_mm: int, *, at_mm: int) -> Point:
    around = neighbours(reel, metre_mm=metre_mm, span_mm=AROUND_MM)
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


def _customers(made: Forward, certificates: Sequence[CertificateRow]) -> list[CustomerRow]:
    """List whom to call: everyone who was delivered to, or was given a paper."""
    names = {one.code: one.name for one in made.customers}
    deliveries: defaultdict[str, list[str]] = defaultdict(list)
    papers: defaultdict[str, list[str]] = defaultdict(list)
    for delivery in made.deliveries:
        deliveries[delivery.customer_code].append(delivery.code)
    for paper in certificates:
        if paper["customer"] and paper["number"]:
            names[paper["customer"]] = paper["customer_name"]
            papers[paper["customer"]].append(paper["number"])
    return [
        {
            "code": code,
            "name": names[code],
            "deliveries": deliveries.get(code, []),
            "certificates": papers.get(code, []),
        }
        for code in sorted(names)
    ]


def _counts(below: Downstream) -> Counts:
    return {
        "pieces": len(below["pieces"]),
        "delivered_pieces": sum(1 for piece in below["pieces"] if piece["delivery"]),
        "assemblies": len(below["assemblies"]),
        "customers": len(below["customers"]),
        "certificates_in_force": sum(1 for c in below["certificates"] if c["state"] == "issued"),
    }
