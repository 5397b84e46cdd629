"""Writes what the genealogy found as rows of JSON."""

from collections.abc import Iterable

from certs.queries.trace_back_shapes import Beside, DocumentBack, HeatBack, LotRow, RopeBack
from certs.queries.trace_find import Traceable
from certs.queries.trace_shapes import Asked, AssemblyRow, DeliveryRow, PieceRow, ReelRow
from inventory.models import Assembly, CutPiece, FittingLot, Heat, MillDocument, Reel
from inventory.queries.neighbours import Neighbour
from inventory.queries.trace_back import HeatOnStretch, RopeTrace
from inventory.queries.trace_forward import (
    ForwardAssembly,
    ForwardDelivery,
    ForwardPiece,
    ForwardReel,
)
from inventory.rules.metres import Stretch
from inventory.rules.units import format_metres


def asked_row(
    thing: Traceable, *, asked_as: str = "", from_mm: int | None = None, to_mm: int | None = None
) -> Asked:
    """Say what was asked about, in one line."""
    kind, text = _kind_and_text(thing)
    return {
        "kind": kind,
        "code": thing.code,
        "text": text,
        "asked_as": asked_as,
        "from_mm": from_mm,
        "to_mm": to_mm,
    }


def rope_back(trace: RopeTrace, *, piece: str = "") -> RopeBack:
    """Write where rope came from, the nearest reel first."""
    return {
        "piece": piece,
        "reels": [
            {
                "code": one.reel_code,
                "from_mm": one.from_mm,
                "to_mm": one.to_mm,
                "sign": one.sign,
                "offset_mm": one.offset_mm,
                "depth": one.depth,
                "wound_from": one.wound_from_code,
            }
            for one in trace.ancestors
        ],
        "heats": heats_back(trace.heats),
        "mill_documents": [_document(document) for document in trace.mill_documents],
    }


def heats_back(heats: Iterable[HeatOnStretch]) -> list[HeatBack]:
    """Write the heats of rope with the metres that hold them."""
    return [
        {
            "code": one.heat.code,
            "number": one.heat.number,
            "steel_name": one.heat.steel_name,
            "mill": one.mill.code,
            "mill_name": one.mill.name,
            "analysis": one.heat.analysis,
            "reel": one.reel_code,
            "from_mm": one.from_mm,
            "to_mm": one.to_mm,
        }
        for one in heats
    ]


def lot_rows(lots: Iterable[FittingLot]) -> list[LotRow]:
    """Write fitting lots; maker, heat and document must be loaded."""
    return [
        {
            "code": lot.code,
            "kind": lot.kind,
            "description": lot.description,
            "maker": lot.maker.code,
            "maker_name": lot.maker.name,
            "maker_lot_number": lot.maker_lot_number,
            "heat": lot.heat.code if lot.heat else "",
            "heat_number": lot.heat.number if lot.heat else "",
            "document": lot.document.code if lot.document else "",
        }
        for lot in lots
    ]


def piece_rows(pieces: Iterable[ForwardPiece]) -> list[PieceRow]:
    """Write the pieces reached, in their order."""
    return [
        {
            "code": one.code,
            "purpose": one.purpose,
            "reel": one.reel_code,
            "from_mm": one.from_mm,
            "to_mm": one.to_mm,
            "asked_reel": one.asked_reel_code,
            "asked_from_mm": one.asked_from_mm,
            "asked_to_mm": one.asked_to_mm,
            "touched": _pairs(one.touched),
            "depth": one.depth,
            "through": one.through,
            "wound_reel": one.wound_reel_code,
            "assembly": one.assembly_code,
            "delivery": one.delivery_code,
            "customer": one.customer_code,
        }
        for one in pieces
    ]


def reel_rows(reels: Iterable[ForwardReel]) -> list[ReelRow]:
    """Write the reels reached, in their order."""
    return [
        {
            "code": one.code,
            "origin": one.origin,
            "depth": one.depth,
            "touched": _pairs(one.touched),
            "asked_reel": one.asked_reel_code,
            "asked_from_mm": one.asked_from_mm,
            "asked_to_mm": one.asked_to_mm,
            "wound_from": one.wound_from_code,
        }
        for one in reels
    ]


def assembly_rows(assemblies: Iterable[ForwardAssembly]) -> list[AssemblyRow]:
    """Write the assemblies reached."""
    return [{"code": one.code, "delivery": one.delivery_code} for one in assemblies]


def delivery_rows(deliveries: Iterable[ForwardDelivery]) -> list[DeliveryRow]:
    """Write the deliveries of what was reached."""
    return [
        {
            "code": one.code,
            "delivered_at": one.delivered_at.isoformat(),
            "customer": one.customer_code,
        }
        for one in deliveries
    ]


def beside_rows(found: Iterable[Neighbour]) -> list[Beside]:
    """Write what was cut around a point, nearest first."""
    return [
        {
            "piece": one.piece.code,
            "purpose": one.piece.purpose,
            "reel": one.piece.reel_code,
            "distance_mm": one.distance_mm,
            "from_mm": one.piece.asked_from_mm,
            "to_mm": one.piece.asked_to_mm,
            "assembly": one.piece.assembly_code,
            "delivery": one.piece.delivery_code,
            "customer": one.piece.customer_code,
        }
        for one in found
    ]


def _kind_and_text(thing: Traceable) -> tuple[str, str]:
    match thing:
        case Heat():
            return "heat", f"heat {thing.number}, {thing.steel_name}, of {thing.mill}"
        case Reel():
            return "reel", f"{format_metres(thing.length_mm)} of {thing.designation}"
        case CutPiece():
            rope = f"{format_metres(thing.length_mm)} of {thing.reel.designation}"
            return "cut piece", f"{rope}, {thing.get_purpose_display()}"
        case Assembly():
            more = f": {thing.description}" if thing.description else ""
            return "assembly", f"{thing.get_kind_display()}{more}"
        case FittingLot():
            return "fitting lot", f"{thing.description}, lot {thing.maker_lot_number}"


def _document(document: MillDocument) -> DocumentBack:
    return {
        "code": document.code,
        "number": document.number,
        "kind": document.kind,
        "form": document.form,
        "maker": document.mill.code,
        "issued_date": document.issued_date.isoformat(),
    }


def _pairs(stretches: Iterable[Stretch]) -> list[list[int]]:
    return [[one.from_mm, one.to_mm] for one in stretches]
