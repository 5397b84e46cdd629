"""Records what a customer asked for."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from django.db import transaction

from inventory.models import Order, OrderLine, Party, Person
from inventory.rules.as_given import kept_as_given
from inventory.rules.canonical import JsonValue
from inventory.rules.designation import parse_designation
from inventory.rules.lengths import LengthDemand
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.services import journal, numbering
from inventory.services.authority import require
from inventory.services.guarded import add_row

# An entry of the journal has room for some three hundred lines in words.
_MOST_TOLD = 100


class CannotPlaceOrder(Refusal):
    """An order cannot be recorded."""


@dataclass(frozen=True, slots=True)
class LineAsked:
    """A rope, a length and how often; each length is in one piece unless asked otherwise."""

    designation: str
    length_mm: int
    quantity: int = 1
    as_one_length: bool = True
    tolerance_minus_mm: int = 0
    tolerance_plus_mm: int = 0
    document_kind: str = "none"
    together: str = "not_asked"
    as_given: Mapping[str, str] = field(default_factory=dict)


def place_order(
    *,
    customer: Party,
    customer_reference: str,
    lines: Sequence[LineAsked],
    by: Person,
    at: datetime,
) -> Order:
    """Record a customer's order with its lines.

    Raises:
        CannotPlaceOrder: no customer, no line, or a line that asks for nothing.
        DesignationError: the designation of a line is not understood.
        Refusal: a length or tolerance that nothing satisfies.
    """
    require(by=by, act=Act.PLACE_ORDER)
    if customer.kind != Party.Kind.CUSTOMER:
        message = f"{customer.code} is no customer; register the firm as one."
        raise CannotPlaceOrder(message, field="customer")
    if not lines:
        message = "An order has at least one line."
        raise CannotPlaceOrder(message, field="lines")
    with transaction.atomic():
        order = Order(
            code=numbering.take_code(numbering.ORDER),
            customer=customer,
            customer_reference=customer_reference.strip(),
            placed_at=at,
            placed_by=by,
        )
        add_row(order, refusal=CannotPlaceOrder)
        written = [_add_line(order, n, asked) for n, asked in enumerate(lines, start=1)]
        journal.append(
            at=at,
            by=by,
            act=Act.PLACE_ORDER.value,
            subject=order.code,
            detail={"customer": customer.code, **_lines_detail(written)},
            rows=[order, *written],
        )
    return order


def _add_line(order: Order, position: int, asked: LineAsked) -> OrderLine:
    demand = LengthDemand(
        length_mm=asked.length_mm,
        tolerance_minus_mm=asked.tolerance_minus_mm,
        tolerance_plus_mm=asked.tolerance_plus_mm,
    )
    if asked.quantity <= 0:
        message = f"Line {position} asks for none; give how many lengths."
        raise CannotPlaceOrder(message, field="quantity")
    row = OrderLine(
        order=order,
        position=position,
        designation=parse_designation(asked.designation).text,
        length_mm=demand.length_mm,
        quantity=asked.quantity,
        as_one_length=asked.as_one_length,
        together=asked.together,
        tolerance_minus_mm=demand.tolerance_minus_mm,
        tolerance_plus_mm=demand.tolerance_plus_mm,
        document_kind=asked.document_kind,
        as_given=kept_as_given(asked.as_given, _figures(asked)),
    )
    return add_row(row, refusal=CannotPlaceOrder)


def _figures(asked: LineAsked) -> dict[str, int | None]:
    return {
        "length_mm": asked.length_mm,
        "tolerance_minus_mm": asked.tolerance_minus_mm,
        "tolerance_plus_mm": asked.tolerance_plus_mm,
    }


def _lines_detail(lines: Sequence[OrderLine]) -> dict[str, JsonValue]:
    """Tell the lines; of a very long order their number, as each is bound by its hash anyway."""
    if len(lines) > _MOST_TOLD:
        return {"line_count": len(lines)}
    return {"lines": [_line_detail(row) for row in lines]}


def _line_detail(line: OrderLine) -> dict[str, JsonValue]:
    return {
        "designation": line.designation,
        "length_mm": line.length_mm,
        "quantity": line.quantity,
        "as_one_length": line.as_one_length,
        "together": line.together,
        "tolerance_minus_mm": line.tolerance_minus_mm,
        "tolerance_plus_mm": line.tolerance_plus_mm,
        "document_kind": line.document_kind,
    }
