"""Decides how a line of an order is told: what is asked, what is cut, which reel can give it."""

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.models import CutPiece, Order, OrderLine
from inventory.pages.facts import Fact, told
from inventory.pages.forms.lines import named_line
from inventory.pages.links import cell_of
from inventory.pages.reading import shown_metres
from inventory.pages.table import Column, Line, Table, build_table
from inventory.queries.registers import lines_of_order
from inventory.queries.stock import LengthOffer, reels_for_length
from inventory.rules.as_given import beside

_OFFERS_SHOWN = 5


@dataclass(frozen=True, slots=True)
class AskedLine:
    """A line of an order as its page tells it. `offer` is None when nothing is left to cut."""

    position: int
    name: str
    length: str
    facts: Sequence[Fact]
    is_served: bool
    offer: Table | None
    nearest: str
    first_reel: str


def asked_lines(order: Order, pieces: Sequence[CutPiece]) -> list[AskedLine]:
    """Return the lines of an order; `pieces` are those cut for it."""
    found: list[AskedLine] = []
    for line in lines_of_order(order):
        line.order = order
        cut = [piece for piece in pieces if piece.order_line_id == line.pk]
        found.append(_line(line, cut))
    return found


def _line(line: OrderLine, cut: Sequence[CutPiece]) -> AskedLine:
    cut_mm = sum(piece.length_mm for piece in cut)
    if line.as_one_length:
        is_served = len(cut) >= line.quantity
    else:
        is_served = cut_mm >= line.quantity * line.length_mm
    offer = None if is_served else _offer(line)
    return AskedLine(
        position=line.position,
        name=named_line(line),
        length=shown_metres(line.length_mm),
        facts=_facts(line, cut, cut_mm),
        is_served=is_served,
        offer=_table(offer) if offer and offer.reels else None,
        nearest=_nearest(offer, line) if offer and not offer.reels else "",
        first_reel=offer.reels[0].reel.code if offer and offer.reels else "",
    )


def _offer(line: OrderLine) -> LengthOffer:
    """A line that need not be one length is served by any length: ask for the least there is."""
    least_mm = line.length_mm - line.tolerance_minus_mm if line.as_one_length else 1
    return reels_for_length(designation=line.designation, length_mm=least_mm)


def _table(offer: LengthOffer) -> Table:
    return build_table(
        columns=("Reel", "Stands at", Column("Longest clear length", is_number=True)),
        lines=(
            Line(
                (
                    cell_of(entry.reel),
                    entry.reel.location,
                    shown_metres(entry.longest_clear_mm),
                )
            )
            for entry in offer.reels[:_OFFERS_SHOWN]
        ),
    )


def _nearest(offer: LengthOffer, line: OrderLine) -> str:
    if offer.longest is None:
        return f"Nothing of {line.designation} is on any reel and free of holds."
    longest = shown_metres(offer.longest.longest_clear_mm)
    return (
        f"No reel can give {shown_metres(line.length_mm)} in one length."
        f" The nearest is {longest}, from reel {offer.longest.reel.code}."
    )


def _together(line: OrderLine) -> str:
    """Say what all pieces are to share; nothing where nothing was asked for."""
    is_asked = line.together != OrderLine.Together.NOT_ASKED
    return line.get_together_display() if is_asked else ""


def _facts(line: OrderLine, cut: Sequence[CutPiece], cut_mm: int) -> list[Fact]:
    minus, plus = (
        beside(shown_metres(getattr(line, name)), line.as_given, name)
        for name in ("tolerance_minus_mm", "tolerance_plus_mm")
    )
    length = beside(shown_metres(line.length_mm), line.as_given, "length_mm")
    has_tolerance = line.tolerance_minus_mm or line.tolerance_plus_mm
    return told(
        Fact("Rope", line.designation),
        Fact(
            "Asked for",
            f"{line.quantity} × {length}",
            note=f"−{minus}, +{plus}" if has_tolerance else "",
        ),
        Fact("In one length", "yes, each" if line.as_one_length else "no: in any lengths together"),
        Fact("Taken together", _together(line)),
        Fact("Document asked for", line.get_document_kind_display()),
        Fact("Cut so far", f"{len(cut)} of {line.quantity}", note=shown_metres(cut_mm))
        if line.as_one_length
        else Fact("Cut so far", shown_metres(cut_mm)),
    )
