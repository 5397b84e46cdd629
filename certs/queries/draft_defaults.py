"""Finds what a draft starts from where nobody chose: purchaser, his reference, kind of document.

The kind is what was ordered, else the highest that the evidence supports (EN 10204:2004). Nobody
is named as representative: that a person validated a paper is not for a program to say.
"""

from dataclasses import dataclass
from datetime import date
from typing import Final

from certs.models import BreakingTest, Certificate
from certs.queries.evidence import decide_for
from certs.queries.papers_to_issue import Certifiable
from certs.queries.subject import subject_of
from inventory.models import Assembly, CutPiece, DeliveryItem, Order, OrderLine, Party

_KINDS = Certificate.DocumentKind
_HIGHEST_FIRST: Final = (
    _KINDS.CERTIFICATE_32,
    _KINDS.CERTIFICATE_31,
    _KINDS.TEST_REPORT,
    _KINDS.DECLARATION,
)


@dataclass(frozen=True, slots=True)
class DraftDefaults:
    """What a draft starts from; no purchaser where nothing was ordered or delivered."""

    document_kind: str
    customer: Party | None
    customer_reference: str


def defaults_for(thing: Certifiable, *, on: date) -> DraftDefaults:
    """Find what the draft for a thing starts from on a day."""
    if isinstance(thing, BreakingTest):
        return DraftDefaults(_KINDS.LABORATORY.value, None, "")
    line = thing.order_line
    kind = _kind_of(thing, line, on=on) if isinstance(thing, Assembly) else _KINDS.STATEMENT.value
    order = line.order if line else None
    item = _item_of(thing)
    if item is not None:
        order = item.delivery.order or order
        return DraftDefaults(kind, item.delivery.customer, _reference(order))
    return DraftDefaults(kind, order.customer if order else None, _reference(order))


def _kind_of(assembly: Assembly, line: OrderLine | None, *, on: date) -> str:
    if line and line.document_kind != OrderLine.DocumentKind.NONE:
        return str(line.document_kind)
    blank = Certificate(kind=Certificate.Kind.ASSEMBLY, assembly=assembly)
    permitted = decide_for(blank, traces=subject_of(blank).traces, on=on).permitted
    names = {str(kind) for kind in permitted}
    held = (kind.value for kind in _HIGHEST_FIRST if kind.value in names)
    return next(held, _KINDS.DECLARATION.value)


def _item_of(thing: CutPiece | Assembly) -> DeliveryItem | None:
    items = DeliveryItem.objects.select_related("delivery__customer", "delivery__order")
    if isinstance(thing, CutPiece):
        return items.filter(piece=thing).first()
    return items.filter(assembly=thing).first()


def _reference(order: Order | None) -> str:
    return order.customer_reference if order else ""
