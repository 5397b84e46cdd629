"""Finds all that was made of a thing and all that is claimed of it, as it is or as it ever was."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from certs.queries.trace_claims import (
    breaking_tests_downstream,
    certificates_downstream,
    proof_tests_downstream,
    tags_downstream,
)
from certs.queries.trace_find import CannotTrace, Traceable
from certs.queries.trace_holds import hold_rows
from certs.queries.trace_rows import (
    assembly_rows,
    delivery_rows,
    lot_rows,
    piece_rows,
    reel_rows,
)
from certs.queries.trace_shapes import CertificateRow, CustomerRow, Downstream
from inventory.models import Assembly, CutPiece, FittingLot, Heat, Reel
from inventory.queries.trace_forward import (
    Forward,
    forward_as_ever,
    forward_from_assembly,
    forward_from_fitting_lot,
    forward_from_heat,
    forward_from_piece,
    forward_from_reel,
    forward_sql,
)
from inventory.rules.metres import Stretch
from inventory.rules.units import format_metres


@dataclass(frozen=True, slots=True, kw_only=True)
class Asking:
    """What is asked about: a thing, or a stretch of a reel in mm.

    `asked_as` is the code that led to it, "" for its own. `as_ever` takes reversed cuts in, for
    whoever then leaves out what did not stand on an earlier day.
    """

    thing: Traceable
    asked_as: str = ""
    from_mm: int | None = None
    to_mm: int | None = None
    as_ever: bool = False


def of_stretch(thing: Traceable, *, from_mm: int | None, to_mm: int | None) -> Stretch | None:
    """Return the stretch that is asked about, None for the whole thing.

    Raises:
        CannotTrace: the thing is no reel, or the stretch passes its end.
        Refusal: the stretch is empty, or starts before metre 0.
    """
    if from_mm is None and to_mm is None:
        return None
    if not isinstance(thing, Reel):
        raise CannotTrace("A stretch is of a reel; give the code of one.")
    asked = Stretch(0 if from_mm is None else from_mm, thing.length_mm if to_mm is None else to_mm)
    if asked.to_mm > thing.length_mm:
        raise CannotTrace(f"Reel {thing.code} ends at {format_metres(thing.length_mm)}.")
    return asked


def downstream_of(asking: Asking) -> Downstream:
    """Return all that was made of it and is claimed of it, in a fixed number of queries."""
    made = _forward(asking)
    stretch = {"from_mm": asking.from_mm, "to_mm": asking.to_mm}
    reached = forward_sql(asking.thing, **stretch, reversed_too=asking.as_ever)
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
        "holds": hold_rows(asking.thing, made=made, reached=reached, **stretch),
    }


def _forward(asking: Asking) -> Forward:
    thing, from_mm, to_mm = asking.thing, asking.from_mm, asking.to_mm
    if asking.as_ever:
        return forward_as_ever(thing, from_mm=from_mm, to_mm=to_mm)
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
