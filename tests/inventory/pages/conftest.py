"""Clients signed in as each role, and one record in which every kind of thing occurs."""

from dataclasses import dataclass

import pytest

from inventory.models import (
    Assembly,
    CutPiece,
    Delivery,
    FittingLot,
    Heat,
    Hold,
    MillDocument,
    Order,
    Reel,
    TestingMachine,
)
from inventory.services.rewind import rewind_reel
from tests import factories as given


@dataclass(frozen=True, slots=True)
class Record:
    heat: Heat
    document: MillDocument
    reel: Reel
    wound: Reel
    piece: CutPiece
    delivered: CutPiece
    order: Order
    lot: FittingLot
    assembly: Assembly
    delivery: Delivery
    machine: TestingMachine
    hold: Hold


@pytest.fixture
def record(db) -> Record:
    """A reel of 100 m: piece 0-10 m, sold 10-15 m, in a sling 15-18 m, 50-60 m rewound."""
    document = given.given_mill_document()
    heat = given.given_heat(mill=document.mill, number="40077")
    reel = given.given_reel(length_m=100, heats=[heat], mill_document=document)
    line = given.given_order_line(length_m=10)
    piece = given.given_piece(reel=reel, length_m=10, order_line=line)
    delivered = given.given_piece(reel=reel, length_m=5)
    lot = given.given_fitting_lot(quantity=10)
    assembly = given.given_assembly(pieces=[given.given_piece(reel=reel, length_m=3)], lot=lot)
    wound = rewind_reel(
        reel=reel, from_mm=50_000, to_mm=60_000, by=given.given_person(), at=given.MOMENT
    )
    machine = given.given_machine()
    return Record(
        heat=heat,
        document=document,
        reel=reel,
        wound=wound,
        piece=piece,
        delivered=delivered,
        order=line.order,
        lot=lot,
        assembly=assembly,
        delivery=given.given_delivery(delivered),
        machine=machine,
        hold=given.given_hold(machine),
    )
