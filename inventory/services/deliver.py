"""Records what left the house for a customer."""

from collections.abc import Sequence
from datetime import datetime
from functools import partial

from django.db import transaction

from inventory.models import Assembly, CutPiece, Delivery, DeliveryItem, Order, Party, Person
from inventory.queries.holds import holds_on_assembly, holds_on_piece
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.services import journal, numbering
from inventory.services.authority import require
from inventory.services.guarded import add_row
from inventory.services.hold_watch import no_hold_meanwhile
from inventory.services.leaving import refuse_if_held
from inventory.services.locks import lock_rows
from inventory.services.usable_piece import check_usable


class CannotDeliver(Refusal):
    """These goods cannot leave."""


def record_delivery(
    *,
    customer: Party,
    pieces: Sequence[CutPiece],
    assemblies: Sequence[Assembly],
    order: Order | None = None,
    note: str = "",
    by: Person,
    at: datetime,
) -> Delivery:
    """Record that pieces and assemblies were handed to a customer.

    Raises:
        CannotDeliver: nothing to deliver, no customer, another customer's goods, goods under
            hold, delivered already, or a piece that is part of an assembly.
    """
    require(by=by, act=Act.RECORD_DELIVERY)
    _check_asked(customer=customer, order=order, is_empty=not pieces and not assemblies)
    with transaction.atomic():
        leaving_pieces = lock_rows(CutPiece, (piece.pk for piece in pieces))
        for piece in leaving_pieces:
            _check_piece(piece, customer=customer)
        leaving_assemblies = lock_rows(Assembly, (assembly.pk for assembly in assemblies))
        for assembly in leaving_assemblies:
            _check_assembly(assembly, customer=customer)
        with no_hold_meanwhile(partial(_check_not_held, leaving_pieces, leaving_assemblies)):
            delivery = Delivery(
                code=numbering.take_code(numbering.DELIVERY),
                customer=customer,
                order=order,
                note=note.strip(),
                delivered_at=at,
                delivered_by=by,
            )
            _write(delivery, leaving_pieces, leaving_assemblies)
    return delivery


def _write(delivery: Delivery, pieces: Sequence[CutPiece], assemblies: Sequence[Assembly]) -> None:
    """Write the delivery with its items, and the journal."""
    add_row(delivery, refusal=CannotDeliver)
    items = [DeliveryItem(delivery=delivery, piece=piece) for piece in pieces]
    items += [DeliveryItem(delivery=delivery, assembly=assembly) for assembly in assemblies]
    for item in items:
        add_row(item, refusal=CannotDeliver)
    journal.append(
        at=delivery.delivered_at,
        by=delivery.delivered_by,
        act=Act.RECORD_DELIVERY.value,
        subject=delivery.code,
        detail={
            "customer": delivery.customer.code,
            "order": delivery.order.code if delivery.order else None,
            "pieces": [piece.code for piece in pieces],
            "assemblies": [assembly.code for assembly in assemblies],
        },
        rows=[delivery, *items],
    )


def _check_not_held(pieces: Sequence[CutPiece], assemblies: Sequence[Assembly]) -> None:
    for piece in pieces:
        held = holds_on_piece(piece)
        refuse_if_held(held, what=f"Piece {piece.code}", refusal=CannotDeliver)
    for assembly in assemblies:
        held = holds_on_assembly(assembly)
        refuse_if_held(held, what=f"Assembly {assembly.code}", refusal=CannotDeliver)


def _check_asked(*, customer: Party, order: Order | None, is_empty: bool) -> None:
    if customer.kind != Party.Kind.CUSTOMER:
        message = f"{customer.code} is no customer; goods are delivered to a customer."
        raise CannotDeliver(message, field="customer")
    if order is not None and order.customer_id != customer.pk:
        message = f"Order {order.code} is of another customer."
        raise CannotDeliver(message, field="order")
    if is_empty:
        message = "Name at least one piece or assembly."
        raise CannotDeliver(message, field="pieces")


def _check_piece(piece: CutPiece, *, customer: Party) -> None:
    check_usable(piece, refusal=CannotDeliver)
    line = piece.order_line
    if line is not None and line.order.customer_id != customer.pk:
        message = f"Piece {piece.code} was cut for order {line.order.code} of another customer."
        raise CannotDeliver(message, field="pieces")


def _check_assembly(assembly: Assembly, *, customer: Party) -> None:
    if hasattr(assembly, "delivery_item"):
        left = assembly.delivery_item.delivery.code
        message = f"Assembly {assembly.code} left with delivery {left} already."
        raise CannotDeliver(message, field="assemblies")
    line = assembly.order_line
    if line is not None and line.order.customer_id != customer.pk:
        message = (
            f"Assembly {assembly.code} was built for order {line.order.code} of another customer."
        )
        raise CannotDeliver(message, field="assemblies")
