"""Receives fittings in lots."""

from datetime import datetime

from django.db import transaction

from inventory.models import FittingLot, Heat, MillDocument, Party, Person
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.rules.units import diameter_nm
from inventory.services import journal, numbering
from inventory.services.authority import require
from inventory.services.guarded import add_row


class CannotReceiveFittings(Refusal):
    """A lot of fittings cannot be recorded as received."""


def receive_fitting_lot(
    *,
    kind: str,
    maker: Party,
    maker_lot_number: str,
    description: str,
    material: str,
    for_diameter: str,
    quantity: int,
    rated_kg: int | None = None,
    heat: Heat | None = None,
    document: MillDocument | None = None,
    by: Person,
    at: datetime,
) -> FittingLot:
    """Receive a lot of ferrules, thimbles, sockets or the like.

    Args:
        kind: a value of `FittingLot.Kind`.
        for_diameter: rope diameter that it is made for, "10" (mm) or "3/8 in"; "" for any.
        quantity: how many pieces.
        rated_kg: working load limit as marked on each by its maker; None without such a mark.

    Raises:
        CannotReceiveFittings: a customer as maker, another maker's document, none received, a
            mark that is not above nought, or a lot recorded already.
        Refusal: the diameter is not understood.
    """
    require(by=by, act=Act.RECEIVE_FITTINGS)
    _check(maker=maker, document=document, quantity=quantity, rated_kg=rated_kg)
    diameter = for_diameter.strip()
    with transaction.atomic():
        lot = FittingLot(
            code=numbering.take_code(numbering.FITTING_LOT),
            kind=kind,
            maker=maker,
            maker_lot_number=maker_lot_number.strip(),
            description=description.strip(),
            material=material.strip(),
            for_diameter_nm=diameter_nm(diameter) if diameter else None,
            quantity=quantity,
            rated_kg=rated_kg,
            heat=heat,
            document=document,
            received_at=at,
            received_by=by,
        )
        add_row(lot, refusal=CannotReceiveFittings)
        journal.append(
            at=at,
            by=by,
            act=Act.RECEIVE_FITTINGS.value,
            subject=lot.code,
            detail={
                "kind": kind,
                "maker": maker.code,
                "maker_lot_number": lot.maker_lot_number,
                "for_diameter_nm": lot.for_diameter_nm,
                "quantity": quantity,
                "rated_kg": rated_kg,
                "heat": heat.code if heat else None,
                "document": document.code if document else None,
            },
            rows=[lot],
        )
    return lot


def _check(
    *, maker: Party, document: MillDocument | None, quantity: int, rated_kg: int | None
) -> None:
    if maker.kind == Party.Kind.CUSTOMER:
        message = f"{maker.code} is a customer; name the maker of the fittings."
        raise CannotReceiveFittings(message, field="maker")
    if document is not None and document.mill_id != maker.pk:
        message = f"{document.code} is a document of another maker; file the right one."
        raise CannotReceiveFittings(message, field="document")
    if quantity <= 0:
        message = "Give how many fittings came."
        raise CannotReceiveFittings(message, field="quantity")
    if rated_kg is not None and rated_kg <= 0:
        message = "Give the load marked on the fitting in kg, or leave it out."
        raise CannotReceiveFittings(message, field="rated_kg")
