"""One thing by its code, with what its page tells of it loaded; None if there is none."""

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
from inventory.models.hold import SUBJECTS


def reel_of_code(code: str) -> Reel | None:
    """Return a reel with its mill, its document and the piece that it was wound from."""
    reels = Reel.objects.select_related("mill", "mill_document", "wound_from__reel", "received_by")
    return reels.filter(code=code).first()


def piece_of_code(code: str) -> CutPiece | None:
    """Return a cut piece with where it went."""
    pieces = CutPiece.objects.select_related(
        "reel__mill",
        "cut_by",
        "order_line__order__customer",
        "assembly_tie__assembly",
        "delivery_item__delivery__customer",
        "wound_reel",
        "reversal__reversed_by",
    )
    return pieces.filter(code=code).first()


def heat_of_code(code: str) -> Heat | None:
    """Return a heat with its mill."""
    return Heat.objects.select_related("mill", "recorded_by").filter(code=code).first()


def document_of_code(code: str) -> MillDocument | None:
    """Return a mill document with its file."""
    documents = MillDocument.objects.select_related("mill", "file", "filed_by")
    return documents.filter(code=code).first()


def order_of_code(code: str) -> Order | None:
    """Return an order with its customer."""
    return Order.objects.select_related("customer", "placed_by").filter(code=code).first()


def lot_of_code(code: str) -> FittingLot | None:
    """Return a fitting lot with maker, heat and document."""
    lots = FittingLot.objects.select_related("maker", "heat__mill", "document", "received_by")
    return lots.filter(code=code).first()


def assembly_of_code(code: str) -> Assembly | None:
    """Return an assembly with the order and delivery that it belongs to."""
    assemblies = Assembly.objects.select_related(
        "built_by", "order_line__order__customer", "delivery_item__delivery__customer"
    )
    return assemblies.filter(code=code).first()


def delivery_of_code(code: str) -> Delivery | None:
    """Return a delivery with customer and order."""
    deliveries = Delivery.objects.select_related("customer", "order", "delivered_by")
    return deliveries.filter(code=code).first()


def hold_of_code(code: str) -> Hold | None:
    """Return a hold with what it is on."""
    holds = Hold.objects.select_related(*SUBJECTS, "placed_by", "released_by")
    return holds.filter(code=code).first()


def machine_of_code(code: str) -> TestingMachine | None:
    """Return a testing machine."""
    return TestingMachine.objects.filter(code=code).first()
