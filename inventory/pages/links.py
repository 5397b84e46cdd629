"""Decides which page shows a thing, so that a code is a link wherever it stands."""

from django.db.models import Model
from django.urls import reverse

from inventory.models import (
    Assembly,
    CutPiece,
    Delivery,
    FittingLot,
    Heat,
    Hold,
    MillDocument,
    Order,
    OrderLine,
    Reel,
    TestingMachine,
)
from inventory.pages.facts import Fact
from inventory.pages.table import Cell

_PAGES: dict[type[Model], str] = {
    Assembly: "inventory:assembly",
    CutPiece: "inventory:piece",
    Delivery: "inventory:delivery",
    FittingLot: "inventory:fitting",
    Heat: "inventory:heat",
    Hold: "inventory:hold",
    MillDocument: "inventory:document",
    Order: "inventory:order",
    Reel: "inventory:reel",
    TestingMachine: "inventory:machine",
}

Coded = (
    Assembly
    | CutPiece
    | Delivery
    | FittingLot
    | Heat
    | Hold
    | MillDocument
    | Order
    | Reel
    | TestingMachine
)


def href_of(thing: Coded) -> str:
    """Return the address of the page of a thing."""
    return reverse(_PAGES[type(thing)], args=[thing.code])


def cell_of(thing: Coded | None, note: str = "") -> Cell:
    """Return the code of a thing as a link; an empty cell for none."""
    return Cell("") if thing is None else Cell(thing.code, href=href_of(thing), note=note)


def fact_of(word: str, thing: Coded | None, note: str = "") -> Fact:
    """Return the code of a thing as a fact with a link; an empty fact for none."""
    if thing is None:
        return Fact(word, "")
    return Fact(word, thing.code, href=href_of(thing), note=note)


def order_fact(line: OrderLine | None) -> Fact:
    """Return the order that a line belongs to as a fact; the order should be loaded."""
    if line is None:
        return Fact("Order", "")
    return fact_of("Order", line.order, note=f"line {line.position}")


def piece_href(code: str) -> str:
    """Return the address of a piece's page by its code."""
    return reverse("inventory:piece", args=[code])


def reel_href(code: str) -> str:
    """Return the address of a reel's page by its code."""
    return reverse("inventory:reel", args=[code])
