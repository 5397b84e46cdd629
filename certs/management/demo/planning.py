"""Plays orders whose cuts are planned: one booked as it was proposed, one left for the officer."""

from certs.management.demo.stage import Stage
from certs.queries.suitable_reels import cutting_offer
from inventory.models import Order, OrderLine
from inventory.rules.cutting_plan import propose_cuts
from inventory.services.cut_plan import book_plan
from inventory.services.orders import LineAsked, place_order

SHORTEST_MM = 10_000
# Lengths in m with how many of each: what a plan can share out over several reels.
BOOKED = ((60, 2), (45, 3), (22, 4))
TOGETHER = (18, 5)
LEFT_OPEN = ((38, 4), (15, 6))


def plan_orders(stage: Stage, *, rope_of: str) -> None:
    """Order lengths of the rope on one reel, and book the cuts of the first order together."""
    rope = stage.reels[rope_of].designation
    booked = _order(stage, rope, BOOKED, together=TOGETHER)
    offer = cutting_offer(booked)
    plan = propose_cuts(offer.demands, offer.stock, shortest_usable_mm=SHORTEST_MM)
    stage.supplied += book_plan(
        order=booked, cuts=plan.cuts, by=stage.people["stores"], at=stage.calendar.moment()
    )
    _order(stage, rope, LEFT_OPEN, together=None)


def _order(
    stage: Stage,
    rope: str,
    lengths: tuple[tuple[int, int], ...],
    *,
    together: tuple[int, int] | None,
) -> Order:
    lines = [LineAsked(rope, length_m * 1000, quantity=count) for length_m, count in lengths]
    if together is not None:
        length_m, count = together
        one_reel = OrderLine.Together.ONE_REEL.value
        lines.append(LineAsked(rope, length_m * 1000, quantity=count, together=one_reel))
    order = place_order(
        customer=stage.parties["marrowby"],
        customer_reference="PO-2214" if together else "PO-2215",
        lines=lines,
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )
    stage.orders.append(order)
    return order
