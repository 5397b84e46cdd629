"""Everything of one kind on record, newest first, for lists that are shown page by page."""

from collections.abc import Iterable

from django.db.models import Count, F, Max, Q, QuerySet, Sum
from django.db.models.functions import Coalesce

from inventory.models import (
    Assembly,
    Calibration,
    CutPiece,
    Delivery,
    DeliveryItem,
    FittingLot,
    FittingUse,
    Heat,
    Hold,
    MillDocument,
    Order,
    OrderLine,
    Party,
    Person,
    Reel,
    Termination,
    TestingMachine,
)
from inventory.models.hold import SUBJECTS


def parties(*, kind: str = "") -> QuerySet[Party]:
    """Return the parties, of one kind if one is named, by name."""
    found = Party.objects.filter(kind=kind) if kind else Party.objects.all()
    return found.order_by("kind", "name", "id")


def customer_of(code: str) -> Party | None:
    """Find a customer by its code."""
    return parties(kind=Party.Kind.CUSTOMER).filter(code=code).first()


def makers() -> QuerySet[Party]:
    """Return those who make things and papers: mills and makers of fittings."""
    return Party.objects.exclude(kind=Party.Kind.CUSTOMER).order_by("kind", "name", "id")


def heats(*, mill: Party | None = None, number: str = "") -> QuerySet[Heat]:
    """Return the heats, of a mill or by the beginning of their number."""
    found = Heat.objects.filter(number__istartswith=number).select_related("mill")
    return (found if mill is None else found.filter(mill=mill)).order_by("-id")


def heat_of(*, mill: Party, number: str) -> Heat | None:
    """Return the heat that a mill calls so."""
    return Heat.objects.filter(mill=mill, number=number).first()


def mill_documents(*, mill: Party | None = None, number: str = "") -> QuerySet[MillDocument]:
    """Return the documents, of a maker or by the beginning of their number."""
    found = MillDocument.objects.filter(number__istartswith=number).select_related("mill")
    return (found if mill is None else found.filter(mill=mill)).order_by("-id")


def mill_document_of(*, mill: Party, named: str) -> MillDocument | None:
    """Return the document of a maker, named by the number printed on it or by our code."""
    asked = Q(number=named) | Q(code=named.upper())
    return MillDocument.objects.filter(asked, mill=mill).first()


def reels_of_heat(heat: Heat) -> QuerySet[Reel]:
    """Return the mill's reels with wires of this heat."""
    return Reel.objects.filter(heat_ties__heat=heat).distinct().order_by("code")


def reels_of_document(document: MillDocument) -> QuerySet[Reel]:
    """Return the reels that a document came with."""
    return Reel.objects.filter(mill_document=document).order_by("code")


def lots_of_heat(heat: Heat) -> QuerySet[FittingLot]:
    """Return the fitting lots made of this heat."""
    return FittingLot.objects.filter(heat=heat).order_by("code")


def orders(*, customer: Party | None = None) -> QuerySet[Order]:
    """Return the orders with the number of their lines."""
    found = Order.objects.select_related("customer").annotate(line_count=Count("lines"))
    return (found if customer is None else found.filter(customer=customer)).order_by("-id")


def lines_of_order(order: Order) -> QuerySet[OrderLine]:
    """Return the lines of an order in their order."""
    return OrderLine.objects.filter(order=order).order_by("position")


def lines_for_rope(designation: str) -> QuerySet[OrderLine]:
    """Return the order lines that ask for this rope and are not served yet, oldest first."""
    cut_mm = Sum(F("pieces__to_mm") - F("pieces__from_mm"), filter=Q(pieces__is_reversed=False))
    lines = OrderLine.objects.filter(designation=designation).annotate(
        cut_count=Count("pieces", filter=Q(pieces__is_reversed=False)),
        cut_mm=Coalesce(cut_mm, 0),
    )
    single = Q(as_one_length=True, cut_count__lt=F("quantity"))
    summed = Q(as_one_length=False, cut_mm__lt=F("quantity") * F("length_mm"))
    return lines.filter(single | summed).select_related("order__customer").order_by("id")


def pieces_of_order(order: Order) -> QuerySet[CutPiece]:
    """Return the pieces cut for an order, with where they went."""
    found = CutPiece.objects.filter(order_line__order=order, is_reversed=False)
    related = ("reel", "order_line", "assembly_tie__assembly", "delivery_item__delivery")
    return found.select_related(*related).order_by("order_line__position", "code")


def assemblies_of_order(order: Order) -> QuerySet[Assembly]:
    """Return the assemblies built for an order, with the delivery they left with."""
    found = Assembly.objects.filter(order_line__order=order)
    return found.select_related("order_line", "delivery_item__delivery").order_by("code")


def cuts_of_reel(reel: Reel) -> QuerySet[CutPiece]:
    """Return every cut of a reel by metre, the reversed ones too."""
    found = CutPiece.objects.filter(reel=reel)
    related = ("order_line__order", "assembly_tie__assembly", "delivery_item__delivery")
    return found.select_related(*related, "wound_reel").order_by("from_mm", "code")


def free_pieces(designation: str = "") -> QuerySet[CutPiece]:
    """Return the pieces for supply that are neither built in nor delivered, newest first."""
    found = CutPiece.objects.filter(
        purpose=CutPiece.Purpose.SUPPLY,
        is_reversed=False,
        assembly_tie=None,
        delivery_item=None,
    ).select_related("reel")
    return (found.filter(reel__designation=designation) if designation else found).order_by("-id")


def fitting_lots(*, kind: str = "") -> QuerySet[FittingLot]:
    """Return the fitting lots with how many of each are used."""
    found = FittingLot.objects.select_related("maker").annotate(
        used=Coalesce(Sum("uses__quantity"), 0)
    )
    return (found.filter(kind=kind) if kind else found).order_by("-id")


def lots_left(diameters_nm: Iterable[int] = ()) -> QuerySet[FittingLot]:
    """Return the lots with something left; of ropes named, those that fit one of them."""
    found = fitting_lots().filter(quantity__gt=F("used"))
    fits = Q(for_diameter_nm__in=set(diameters_nm)) | Q(for_diameter_nm=None)
    return found.filter(fits) if diameters_nm else found


def uses_of_lot(lot: FittingLot) -> QuerySet[FittingUse]:
    """Return where the fittings of a lot went."""
    found = FittingUse.objects.filter(lot=lot).order_by("id")
    return found.select_related("termination__assembly_piece__assembly")


def assemblies(*, kind: str = "") -> QuerySet[Assembly]:
    """Return the assemblies with their delivery."""
    found = Assembly.objects.select_related("delivery_item__delivery", "order_line__order")
    return (found.filter(kind=kind) if kind else found).order_by("-id")


def terminations_of(assembly: Assembly) -> QuerySet[Termination]:
    """Return the ends of an assembly, piece by piece, with their fittings."""
    found = Termination.objects.filter(assembly_piece__assembly=assembly)
    found = found.select_related("assembly_piece__piece").prefetch_related("fittings__lot")
    return found.order_by("assembly_piece__position", "-end")


def deliveries(*, customer: Party | None = None) -> QuerySet[Delivery]:
    """Return the deliveries with the number of their items."""
    found = Delivery.objects.select_related("customer", "order").annotate(item_count=Count("items"))
    return (found if customer is None else found.filter(customer=customer)).order_by("-id")


def items_of_delivery(delivery: Delivery) -> QuerySet[DeliveryItem]:
    """Return what left with a delivery."""
    found = DeliveryItem.objects.filter(delivery=delivery).order_by("id")
    return found.select_related("piece__reel", "assembly")


def holds(*, is_standing: bool | None = None) -> QuerySet[Hold]:
    """Return the holds: standing, released, or both (None)."""
    found = Hold.objects.select_related(*SUBJECTS, "placed_by")
    if is_standing is not None:
        found = found.filter(released_at__isnull=is_standing)
    return found.order_by("-placed_at", "-id")


def machines() -> QuerySet[TestingMachine]:
    """Return the testing machines with the day on which their last calibration ends."""
    return TestingMachine.objects.annotate(due=Max("calibrations__due_date")).order_by("code")


def calibrations_of(machine: TestingMachine) -> QuerySet[Calibration]:
    """Return the calibrations of a machine, the latest first."""
    return Calibration.objects.filter(machine=machine).order_by("-calibrated_date", "-id")


def people() -> QuerySet[Person]:
    """Return everyone who is registered, by user name."""
    return Person.objects.order_by("username")
