"""Small cutting instances, a first-fit plan of them, and every plan of the tiny ones.

The enumerator knows nothing of the program's search: it tries all ways to deal pieces to stretches.
"""

from itertools import product

from hypothesis import strategies as st

from inventory.rules.cutting_terms import CutDemand, FreeStretch, PlanScore, Together
from inventory.rules.metres import Stretch

ROPE = "12 6x7-WSC 1770 B sZ"
M = 1000


def want(length_m, quantity=1, line="O-00001.1", **facts):
    told = {"designation": ROPE, "length_mm": int(length_m * M), "quantity": quantity}
    return CutDemand(line=line, **(told | facts))


def wants(*lengths_m):
    return [want(length, line=f"O-00001.{n}") for n, length in enumerate(lengths_m, start=1)]


def free(reel, from_m, to_m, **facts):
    told = {"designation": ROPE, "received": int(reel[2:] or 0), "heats": frozenset({1})}
    return FreeStretch(reel=reel, stretch=Stretch(int(from_m * M), int(to_m * M)), **(told | facts))


def reels(*lengths_m):
    return [free(f"R-{n}", 0, length) for n, length in enumerate(lengths_m, start=1)]


def unusable(left_mm, shortest_mm):
    return left_mm if left_mm < shortest_mm else 0


def first_fit(demands, stock, *, shortest_mm):
    """Each length in the order asked from the first stretch that has it, the oldest first."""
    left = [part.stretch.length_mm for part in stock]
    opened, unmet = set(), 0
    for demand in demands:
        for _ in range(demand.quantity):
            slot = next((n for n, mm in enumerate(left) if mm >= demand.length_mm), None)
            if slot is None:
                unmet += demand.length_mm
            else:
                left[slot] -= demand.length_mm
                opened.add(stock[slot].reel)
    return PlanScore(unmet, sum(unusable(mm, shortest_mm) for mm in left), len(opened))


def best_by_trying_all(demands, stock, *, shortest_mm):
    """The best score of all ways to deal the pieces out, those that belong together or none."""
    pieces = [demand for demand in demands for _ in range(demand.quantity)]
    found = []
    for dealt in product([None, *range(len(stock))], repeat=len(pieces)):
        left = [part.stretch.length_mm for part in stock]
        opened, unmet = set(), 0
        for demand, slot in zip(pieces, dealt, strict=True):
            if slot is None:
                unmet += demand.length_mm
            else:
                left[slot] -= demand.length_mm
                opened.add(stock[slot].reel)
        if min(left) >= 0 and all(_together(d, pieces, dealt, stock) for d in demands):
            wasted = sum(unusable(mm, shortest_mm) for mm in left)
            found.append((unmet, wasted, len(opened)))
    return PlanScore(*min(found))


def _together(demand, pieces, dealt, stock):
    slots = [slot for piece, slot in zip(pieces, dealt, strict=True) if piece is demand]
    if demand.together is Together.NOT_ASKED or set(slots) == {None}:
        return True
    if None in slots:
        return False
    if demand.together is Together.ONE_REEL:
        return len({stock[slot].reel for slot in slots}) == 1
    heats = {stock[slot].heats for slot in slots}
    return len(heats) == 1 and None not in heats


@st.composite
def instances(draw, *, most_pieces=5, most_stretches=3):
    """Demands with single lengths, all kinds of togetherness, and stock with heats."""
    count = draw(st.integers(1, 3))
    demands = [
        want(
            draw(st.integers(1, 12)),
            draw(st.integers(1, max(most_pieces // count, 1))),
            f"O-00001.{n}",
            together=draw(st.sampled_from(Together)),
        )
        for n in range(1, count + 1)
    ]
    stock = []
    for n in range(1, draw(st.integers(1, most_stretches)) + 1):
        start = draw(st.integers(0, 3))
        heats = draw(st.sampled_from([frozenset({1}), frozenset({2}), None]))
        reel = f"R-{draw(st.integers(1, n))}"
        place = 100 * n + start
        stock.append(free(reel, place, place + draw(st.integers(1, 25)), heats=heats))
    return demands, sorted(stock, key=lambda part: (part.received, part.reel, part.stretch))
