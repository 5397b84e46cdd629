"""Builds an assembly of cut pieces and fittings. How strong it is is a claim, made elsewhere."""

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date, datetime
from functools import partial

from django.db import transaction
from django.db.models import Model, Sum

from inventory.models import (
    Assembly,
    AssemblyPiece,
    CutPiece,
    FittingLot,
    FittingUse,
    OrderLine,
    Person,
    Termination,
)
from inventory.queries.holds import holds_on_lot, holds_on_piece
from inventory.rules.canonical import JsonValue
from inventory.rules.legs import check_legs
from inventory.rules.purpose import check_purpose, check_sizes
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.services import journal, numbering
from inventory.services.assembly_asked import FittingAsked, PieceAsked, TerminationAsked
from inventory.services.authority import require
from inventory.services.guarded import add_row
from inventory.services.hold_watch import no_hold_meanwhile
from inventory.services.leaving import refuse_if_held
from inventory.services.locks import lock_rows
from inventory.services.usable_piece import check_usable

__all__ = ["CannotAssemble", "FittingAsked", "PieceAsked", "TerminationAsked", "build_assembly"]

_MADE_WITH_FITTINGS = frozenset(Termination.Kind.values) - {Termination.Kind.HAND_SPLICE.value}


class CannotAssemble(Refusal):
    """An assembly cannot be built of these."""


def build_assembly(
    *,
    kind: str,
    pieces: Sequence[PieceAsked],
    description: str = "",
    order_line: OrderLine | None = None,
    use: str = Assembly.Use.LIFTING.value,
    convention: str = Assembly.Convention.FROM_VERTICAL.value,
    market_date: date | None = None,
    bend_mm: int | None = None,
    by: Person,
    at: datetime,
) -> Assembly:
    """Build an assembly; its pieces and fittings are used up by it.

    Args:
        kind: a value of `Assembly.Kind`.
        use: a value of `Assembly.Use`; what only holds something up is no sling.
        convention: a value of `Assembly.Convention`, by which it is rated.
        market_date: when it is placed on the market; None where that is not known.
        bend_mm: thickness of the thinnest pin, hook or doubled edge radius; None if not said.

    Raises:
        CannotAssemble: a piece or lot is not free, under hold or does not fit.
        Refusal: pieces, ends, sizes and use do not make an assembly of this kind.
    """
    require(by=by, act=Act.BUILD_ASSEMBLY)
    check_legs(kind, [{t.end for t in asked.terminations} for asked in pieces])
    check_purpose(kind, use=use, bend_mm=bend_mm)
    _check_named_once(pieces)
    with transaction.atomic():
        legs = _locked_pieces(pieces)
        _check_pieces(legs, order_line=order_line)
        lots = _locked_lots(pieces)
        with no_hold_meanwhile(partial(_check_not_held, legs, lots)):
            assembly = Assembly(
                code=numbering.take_code(numbering.ASSEMBLY),
                kind=kind,
                description=description.strip(),
                order_line=order_line,
                use=use,
                convention=convention,
                market_date=market_date,
                bend_mm=bend_mm,
                built_at=at,
                built_by=by,
            )
            add_row(assembly, refusal=CannotAssemble)
            parts = [
                row
                for position, asked in enumerate(pieces, start=1)
                for row in _build_in(assembly, asked, position=position)
            ]
            journal.append(
                at=at,
                by=by,
                act=Act.BUILD_ASSEMBLY.value,
                subject=assembly.code,
                detail={
                    **_purpose_detail(assembly),
                    "pieces": [_piece_detail(asked) for asked in pieces],
                },
                rows=[assembly, *parts],
            )
    return assembly


def _check_named_once(pieces: Sequence[PieceAsked]) -> None:
    if len({asked.piece.pk for asked in pieces}) != len(pieces):
        message = "A piece is named twice; each leg is a piece of its own."
        raise CannotAssemble(message, field="pieces")
    for asked in pieces:
        if len({t.end for t in asked.terminations}) != len(asked.terminations):
            message = f"An end of piece {asked.piece.code} is named twice."
            raise CannotAssemble(message, field="terminations")
        check_sizes(
            length_mm=asked.piece.length_mm,
            clear_mm=asked.clear_mm,
            eyes_mm=[fitted.eye_mm for fitted in asked.terminations],
        )
        _check_lots_named(asked)
        for fitting in _fittings_of(asked):
            if fitting.quantity <= 0:
                message = f"Give how many fittings of lot {fitting.lot.code} are used."
                raise CannotAssemble(message, field="fittings")


def _check_lots_named(asked: PieceAsked) -> None:
    """A fitting without its lot could be neither traced nor recalled; a hand splice has none."""
    for fitted in asked.terminations:
        if fitted.kind in _MADE_WITH_FITTINGS and not fitted.fittings:
            message = (
                f"Name the lot of the fitting at the {fitted.end} end of {asked.piece.code}:"
                " only a hand splice is made without one."
            )
            raise CannotAssemble(message, field="fittings")


def _locked_pieces(pieces: Sequence[PieceAsked]) -> list[CutPiece]:
    return lock_rows(CutPiece, (asked.piece.pk for asked in pieces))


def _check_pieces(pieces: Sequence[CutPiece], *, order_line: OrderLine | None) -> None:
    designations = {piece.reel.designation for piece in pieces}
    if len(designations) > 1:
        message = f"The legs are of different ropes: {', '.join(sorted(designations))}."
        raise CannotAssemble(message, field="pieces")
    if order_line is not None and order_line.designation not in designations:
        message = f"The order asks for {order_line.designation}; the piece is of another rope."
        raise CannotAssemble(message, field="order_line")
    for piece in pieces:
        check_usable(piece, refusal=CannotAssemble)


def _check_not_held(pieces: Sequence[CutPiece], lots: Sequence[FittingLot]) -> None:
    for piece in pieces:
        held = holds_on_piece(piece)
        refuse_if_held(held, what=f"Piece {piece.code}", refusal=CannotAssemble)
    for lot in lots:
        refuse_if_held(holds_on_lot(lot), what=f"Lot {lot.code}", refusal=CannotAssemble)


def _locked_lots(pieces: Sequence[PieceAsked]) -> list[FittingLot]:
    """Lock the lots; their fittings fit the rope, and there are enough of them."""
    wanted: Counter[int] = Counter()
    diameters_nm: dict[int, set[int]] = {}
    for asked in pieces:
        for fitting in _fittings_of(asked):
            wanted[fitting.lot.pk] += fitting.quantity
            diameters_nm.setdefault(fitting.lot.pk, set()).add(asked.piece.reel.diameter_nm)
    lots = lock_rows(FittingLot, wanted)
    used = _used_of(wanted)
    for lot in lots:
        if lot.for_diameter_nm is not None and diameters_nm[lot.pk] != {lot.for_diameter_nm}:
            message = f"Fittings of lot {lot.code} are made for a rope of another diameter."
            raise CannotAssemble(message, field="fittings")
        left = lot.quantity - used.get(lot.pk, 0)
        if wanted[lot.pk] > left:
            message = f"Only {left} of lot {lot.code} are left; {wanted[lot.pk]} are asked for."
            raise CannotAssemble(message, field="fittings")
    return lots


def _used_of(lots: Mapping[int, int]) -> dict[int, int]:
    uses = FittingUse.objects.filter(lot_id__in=lots).values_list("lot_id")
    return dict(uses.annotate(Sum("quantity")))


def _build_in(assembly: Assembly, asked: PieceAsked, *, position: int) -> list[Model]:
    """Write a piece with its ends and fittings; return the rows."""
    tie = AssemblyPiece(
        assembly=assembly, piece=asked.piece, position=position, clear_mm=asked.clear_mm
    )
    rows: list[Model] = [add_row(tie, refusal=CannotAssemble)]
    for fitted in asked.terminations:
        termination = Termination(
            assembly_piece=tie,
            end=fitted.end,
            kind=fitted.kind,
            operator=fitted.operator.strip(),
            eye_mm=fitted.eye_mm,
            note=fitted.note.strip(),
        )
        rows.append(add_row(termination, refusal=CannotAssemble))
        for fitting in fitted.fittings:
            use = FittingUse(termination=termination, lot=fitting.lot, quantity=fitting.quantity)
            rows.append(add_row(use, refusal=CannotAssemble))
    return rows


def _fittings_of(asked: PieceAsked) -> list[FittingAsked]:
    return [fitting for termination in asked.terminations for fitting in termination.fittings]


def _purpose_detail(assembly: Assembly) -> dict[str, JsonValue]:
    day = assembly.market_date
    return {
        "kind": assembly.kind,
        "use": assembly.use,
        "convention": assembly.convention,
        "market_date": day.isoformat() if day else None,
        "bend_mm": assembly.bend_mm,
    }


def _piece_detail(asked: PieceAsked) -> dict[str, JsonValue]:
    return {
        "piece": asked.piece.code,
        "clear_mm": asked.clear_mm,
        "terminations": [
            {
                "end": t.end,
                "kind": t.kind,
                "eye_mm": t.eye_mm,
                "fittings": [{"lot": f.lot.code, "quantity": f.quantity} for f in t.fittings],
            }
            for t in asked.terminations
        ],
    }
