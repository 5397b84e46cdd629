"""Cuts a piece from a reel, and takes a wrong cut back by an entry that names it."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import partial

from django.db import transaction
from django.db.models import Model

from inventory.models import CutPiece, CutReversal, OrderLine, Person, Reel
from inventory.queries.holds import holds_on_piece
from inventory.rules.as_given import NOTHING_GIVEN, kept_as_given
from inventory.rules.lengths import LengthDemand
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.rules.units import format_metres
from inventory.services import journal, numbering
from inventory.services.authority import require
from inventory.services.guarded import add_row, guarded
from inventory.services.hold_watch import no_hold_meanwhile
from inventory.services.leaving import (
    check_free,
    check_not_held,
    first_clear_stretch,
    refuse_if_held,
)
from inventory.services.line_length import check_serves
from inventory.services.locks import lock_row

_CUT_FOR = (CutPiece.Purpose.SUPPLY, CutPiece.Purpose.SAMPLE, CutPiece.Purpose.SCRAP)


class CannotCut(Refusal):
    """A piece cannot be cut, or a cut cannot be taken back."""


def cut_piece(
    *,
    reel: Reel,
    from_mm: int | None,
    length_mm: int,
    purpose: str,
    by: Person,
    at: datetime,
    order_line: OrderLine | None = None,
    ordered_length_mm: int | None = None,
    tolerance_minus_mm: int = 0,
    tolerance_plus_mm: int = 0,
    near_end: str = CutPiece.EndFinish.PLAIN,
    far_end: str = CutPiece.EndFinish.PLAIN,
    note: str = "",
    as_given: Mapping[str, str] = NOTHING_GIVEN,
) -> CutPiece:
    """Cut a piece in one length.

    Args:
        from_mm: where it starts on the reel's scale; None for the first free metres from the
            free end that give the length and are not under hold.
        purpose: "supply", "sample" or "scrap"; rewinding makes its own cut.
        order_line: gives the ordered length and its tolerances, which are then not given here.
        as_given: figures typed in another unit, by the names of these arguments.
        near_end: finish of the end towards metre 0, a value of `CutPiece.EndFinish`.

    Raises:
        CannotCut: the metres are not free, are under hold, or do not serve the order.
    """
    require(by=by, act=Act.CUT_PIECE)
    _check_asked(purpose, length_mm, order_line, ordered_length_mm)
    demand = _own_demand(
        ordered_length_mm,
        minus_mm=tolerance_minus_mm,
        plus_mm=tolerance_plus_mm,
        length_mm=length_mm,
    )
    figures = {
        "from_mm": from_mm,
        "length_mm": length_mm,
        "ordered_length_mm": ordered_length_mm,
        "tolerance_minus_mm": tolerance_minus_mm,
        "tolerance_plus_mm": tolerance_plus_mm,
    }
    kept = kept_as_given(as_given, figures)
    with transaction.atomic():
        reel = lock_row(reel)
        if from_mm is None:
            stretch = first_clear_stretch(reel, length_mm=length_mm, refusal=CannotCut)
        else:
            stretch = Stretch(from_mm, from_mm + length_mm)
        check_free(reel, stretch, refusal=CannotCut)
        with no_hold_meanwhile(partial(check_not_held, reel, stretch, refusal=CannotCut)):
            if order_line is not None:
                line = lock_row(order_line)
                demand = check_serves(line, reel=reel, stretch=stretch, refusal=CannotCut)
            piece = CutPiece(
                code=numbering.take_code(numbering.CUT_PIECE),
                reel=reel,
                from_mm=stretch.from_mm,
                to_mm=stretch.to_mm,
                purpose=purpose,
                order_line=order_line,
                ordered_length_mm=demand.length_mm if demand else None,
                tolerance_minus_mm=demand.tolerance_minus_mm if demand else 0,
                tolerance_plus_mm=demand.tolerance_plus_mm if demand else 0,
                near_end=near_end,
                far_end=far_end,
                as_given=kept,
                note=note.strip(),
                cut_at=at,
                cut_by=by,
            )
            add_row(piece, refusal=CannotCut)
            _write_down(piece, act=Act.CUT_PIECE, rows=[piece], by=by, at=at)
    return piece


def reverse_cut(*, cut: CutPiece, reason: str, by: Person, at: datetime) -> CutReversal:
    """Take back a wrong cut: the rope was never parted there, and its metres are free again.

    Raises:
        CannotCut: no reason, reversed already, under hold, or something was made of the piece.
    """
    require(by=by, act=Act.REVERSE_CUT)
    if not reason.strip():
        message = "Give the reason; it stays beside the cut for good."
        raise CannotCut(message, field="reason")
    with transaction.atomic():
        lock_row(cut.reel)
        return put_back(lock_row(cut), reason=reason.strip(), by=by, at=at)


def put_back(piece: CutPiece, *, reason: str, by: Person, at: datetime) -> CutReversal:
    """Write the reversal of a cut whose reel and piece are locked; its caller asked who may.

    Raises:
        CannotCut: reversed already, under hold, or something was made of the piece.
    """
    if piece.is_reversed:
        message = f"Cut {piece.code} is reversed already."
        raise CannotCut(message)
    # A hold on this piece would reach nothing more once the piece is gone.
    refuse_if_held(holds_on_piece(piece), what=f"Piece {piece.code}", refusal=CannotCut)
    reversal = CutReversal(cut=piece, reason=reason, reversed_at=at, reversed_by=by)
    add_row(reversal, refusal=CannotCut)
    piece.is_reversed = True
    with guarded(CannotCut):
        piece.save(update_fields=["is_reversed"])
    _write_down(piece, act=Act.REVERSE_CUT, rows=[piece, reversal], by=by, at=at)
    return reversal


def _check_asked(
    purpose: str, length_mm: int, order_line: OrderLine | None, ordered_length_mm: int | None
) -> None:
    if purpose not in _CUT_FOR:
        message = f"A piece is cut for one of {', '.join(_CUT_FOR)}; rewinding has its own page."
        raise CannotCut(message, field="purpose")
    if length_mm <= 0:
        message = "Give the length to cut."
        raise CannotCut(message, field="length_mm")
    if order_line is not None and purpose != CutPiece.Purpose.SUPPLY:
        message = "Only a piece for supply serves an order."
        raise CannotCut(message, field="order_line")
    if order_line is not None and ordered_length_mm is not None:
        message = "The ordered length stands on the order line; do not give another."
        raise CannotCut(message, field="ordered_length_mm")


def _own_demand(
    ordered_length_mm: int | None, *, minus_mm: int, plus_mm: int, length_mm: int
) -> LengthDemand | None:
    """What the piece has to measure without an order; None: nobody asked for a certain length."""
    if ordered_length_mm is None:
        return None
    demand = LengthDemand(ordered_length_mm, minus_mm, plus_mm)
    if not demand.accepts(length_mm):
        message = (
            f"{format_metres(length_mm)} does not serve {format_metres(ordered_length_mm)}"
            f" -{minus_mm}/+{plus_mm} mm; cut what was asked for, or give its tolerances."
        )
        raise CannotCut(message, field="length_mm")
    return demand


def _write_down(
    piece: CutPiece, *, act: Act, rows: Sequence[Model], by: Person, at: datetime
) -> None:
    journal.append(
        at=at,
        by=by,
        act=act.value,
        subject=piece.code,
        detail={
            "reel": piece.reel.code,
            "from_mm": piece.from_mm,
            "to_mm": piece.to_mm,
            "purpose": piece.purpose,
            "order": piece.order_line.order.code if piece.order_line else None,
            "order_line": piece.order_line.position if piece.order_line else None,
        },
        rows=rows,
    )
