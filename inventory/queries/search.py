"""Finds what exists by what is typed: a code of ours, a maker's number, a firm's name.

A fixed number of queries, whatever is typed. What is claimed of things is searched by `certs`.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from django.db.models import Model, Q

from inventory.models import (
    Assembly,
    CutPiece,
    Delivery,
    FittingLot,
    Heat,
    Hold,
    MillDocument,
    Order,
    Party,
    Reel,
    TestingMachine,
)
from inventory.queries.find import find_thing
from inventory.rules.units import format_metres

MOST_OF_A_KIND: Final = 12
"""As many hits of one kind are told; own choice. One more is read, to know that there are more."""


@dataclass(frozen=True, slots=True)
class Hit:
    """Something on record: its kind in words, its code, what it is.

    `is_sure` where exactly this was named, and not only a part of it.
    """

    kind: str
    code: str
    text: str
    is_sure: bool = False


def things_named(*, code: str, word: str) -> list[Hit]:
    """Find things by a code of ours ("" for none), and by a word in what others call them."""
    named = find_thing(code) if code else None
    hits = [hit_of(named, is_sure=True)] if named is not None else []
    if word:
        hits += _by_word(word)
    seen: dict[str, Hit] = {}
    for hit in hits:
        seen.setdefault(hit.code, hit)
    return list(seen.values())


def things_of_customer(customer: str) -> list[Hit]:
    """Find the orders of a customer by his code, and what was delivered to him, newest first."""
    orders = Order.objects.filter(customer__code=customer).select_related("customer")
    deliveries = Delivery.objects.filter(customer__code=customer).select_related("customer")
    return [
        *(hit_of(row) for row in orders.order_by("-id")[: MOST_OF_A_KIND + 1]),
        *(hit_of(row) for row in deliveries.order_by("-id")[: MOST_OF_A_KIND + 1]),
    ]


def hit_of(thing: Model, *, is_sure: bool = False) -> Hit:
    """Tell a thing as a hit."""
    kind, text = _told(thing)
    return Hit(kind, str(getattr(thing, "code", "")), text, is_sure)


def _by_word(word: str) -> Iterator[Hit]:
    """Yield what a word of others names: equal to it, or holding it."""
    looked_at: tuple[tuple[type[Model], str, tuple[str, ...]], ...] = (
        (Heat, "number", ("mill",)),
        (MillDocument, "number", ("mill",)),
        (Reel, "mill_reel_number", ()),
        (FittingLot, "maker_lot_number", ("maker",)),
        (Order, "customer_reference", ("customer",)),
        (Party, "name", ()),
        (TestingMachine, "serial_number", ()),
    )
    for model, column, related in looked_at:
        rows = model._default_manager.filter(Q(**{f"{column}__icontains": word}))  # noqa: SLF001 -- Django's way
        if related:
            rows = rows.select_related(*related)
        for row in rows.order_by(column, "pk")[: MOST_OF_A_KIND + 1]:
            yield hit_of(row, is_sure=str(getattr(row, column)).casefold() == word.casefold())


def _told(thing: Model) -> tuple[str, str]:  # noqa: C901, PLR0911 -- one line for each kind
    match thing:
        case Heat():
            return "heat", f"heat {thing.number}, {thing.steel_name}, of {thing.mill}"
        case MillDocument():
            return "mill document", f"{thing.number}, {thing.get_kind_display()}, of {thing.mill}"
        case Reel():
            number = f", the mill’s reel {thing.mill_reel_number}" if thing.mill_reel_number else ""
            return "reel", f"{format_metres(thing.length_mm)} of {thing.designation}{number}"
        case CutPiece():
            length = format_metres(thing.length_mm)
            return "cut piece", f"{length}, {thing.get_purpose_display()}"
        case Assembly():
            more = f": {thing.description}" if thing.description else ""
            return "assembly", f"{thing.get_kind_display()}{more}"
        case FittingLot():
            return "fitting lot", f"{thing.description}, lot {thing.maker_lot_number}"
        case Order():
            mark = f", their {thing.customer_reference}" if thing.customer_reference else ""
            return "order", f"of {thing.customer}{mark}"
        case Delivery():
            return "delivery", f"to {thing.customer}, {thing.delivered_at.date().isoformat()}"
        case Hold():
            return "hold", thing.reason
        case TestingMachine():
            return "testing machine", f"{thing.name}, serial number {thing.serial_number}"
        case Party():
            return thing.get_kind_display(), thing.name
    message = f"{type(thing).__name__} is nothing that is searched for"
    raise TypeError(message)
