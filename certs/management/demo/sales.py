"""Plays the daily trade: orders come in, pieces are cut from what is in stock, goods leave."""

from collections.abc import Iterable, Sequence

from certs.management.demo.stage import Stage
from inventory.models import CutPiece, Order, OrderLine, Party, Reel
from inventory.queries.stock import reels_for_length
from inventory.services.cut import cut_piece
from inventory.services.deliver import record_delivery
from inventory.services.orders import LineAsked, place_order

LINES_AN_ORDER = (2, 4)
THINNEST_TRADE_M = (4, 5, 6, 8, 10, 12, 15, 18, 20, 25, 30, 35, 40, 50, 60)
THICK_TRADE_M = (6, 8, 10, 12, 14, 16, 20, 22)
THICK_NM = 12_000_000
SCRAP_NOTE = "damaged in handling"


def trade(stage: Stage, *, for_sale: Sequence[Reel], orders: int) -> None:
    """Take some orders for these ropes, cut them, and deliver most of them."""
    ropes = sorted({reel.designation for reel in for_sale})
    sizes_nm = {reel.designation: reel.diameter_nm for reel in for_sale}
    for number in range(orders):
        stage.calendar.wait(days=stage.chance.randint(1, 2))
        customer = stage.customers[number % len(stage.customers)]
        order = _order(stage, customer, ropes, sizes_nm)
        pieces = [piece for line in order.lines.order_by("position") for piece in _cut(stage, line)]
        stage.supplied += pieces
        # Every fourth order still waits in the house.
        if pieces and number % 4 != 3:  # noqa: PLR2004 -- said in the line above
            deliver(stage, order, pieces)


def deliver(stage: Stage, order: Order, pieces: Iterable[CutPiece]) -> None:
    """Hand the pieces of an order to its customer, the next morning."""
    stage.calendar.wait(days=1)
    record_delivery(
        customer=order.customer,
        pieces=list(pieces),
        assemblies=[],
        order=order,
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )


def hand_over(stage: Stage, *pieces: CutPiece, customer: Party) -> None:
    """Deliver pieces that were cut without an order."""
    record_delivery(
        customer=customer,
        pieces=pieces,
        assemblies=[],
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )


def supply(stage: Stage, reel: Reel, *, length_m: int, from_m: int | None = None) -> CutPiece:
    """Cut one piece for supply, at a metre or from the first free one on."""
    return cut_piece(
        reel=reel,
        from_mm=None if from_m is None else from_m * 1000,
        length_mm=length_m * 1000,
        purpose=CutPiece.Purpose.SUPPLY,
        near_end=CutPiece.EndFinish.SEIZED,
        far_end=CutPiece.EndFinish.SEIZED,
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )


def scrap(stage: Stage, reels: Iterable[Reel]) -> None:
    """Throw away a damaged metre or two of each reel."""
    for reel in reels:
        cut_piece(
            reel=reel,
            from_mm=None,
            length_mm=stage.chance.randrange(600, 2400, 50),
            purpose=CutPiece.Purpose.SCRAP,
            note=SCRAP_NOTE,
            by=stage.people["stores"],
            at=stage.calendar.moment(),
        )


def _order(stage: Stage, customer: Party, ropes: Sequence[str], sizes_nm: dict[str, int]) -> Order:
    chosen = stage.chance.sample(ropes, stage.chance.randint(*LINES_AN_ORDER))
    order = place_order(
        customer=customer,
        customer_reference=f"PO-{stage.chance.randrange(1000, 9999)}",
        lines=[_line(stage, rope, is_thick=sizes_nm[rope] >= THICK_NM) for rope in chosen],
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )
    stage.orders.append(order)
    return order


def _line(stage: Stage, rope: str, *, is_thick: bool) -> LineAsked:
    """Ask for a length in one piece each, as is usual; a tolerance of one per cent above."""
    length_mm = stage.chance.choice(THICK_TRADE_M if is_thick else THINNEST_TRADE_M) * 1000
    return LineAsked(
        designation=rope,
        length_mm=length_mm,
        quantity=stage.chance.randint(1, 3 if is_thick else 6),
        tolerance_plus_mm=length_mm // 100,
    )


def _cut(stage: Stage, line: OrderLine) -> Iterable[CutPiece]:
    """Cut what a line asks for, each from the reel that fits it most tightly."""
    for _ in range(line.quantity):
        length_mm = line.length_mm + stage.chance.randint(0, line.tolerance_plus_mm)
        offer = reels_for_length(designation=line.designation, length_mm=length_mm)
        if offer.reels:
            yield cut_piece(
                reel=offer.reels[0].reel,
                from_mm=None,
                length_mm=length_mm,
                purpose=CutPiece.Purpose.SUPPLY,
                order_line=line,
                near_end=CutPiece.EndFinish.SEIZED,
                far_end=CutPiece.EndFinish.SEIZED,
                by=stage.people["stores"],
                at=stage.calendar.moment(),
            )
