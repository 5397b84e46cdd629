"""A proposal for two hundred lengths over a hundred reels, against a plain first fit of the same.

The instance is made by a fixed seed; lengths are whole decimetres, as an order gives them.
"""

import random

from inventory.rules.cutting_plan import propose_cuts
from inventory.rules.cutting_terms import CutDemand, FreeStretch
from tests.bench.timing import Ratio, compare
from tests.inventory.rules.cutting import first_fit, free, want

LENGTHS = 200
REELS = 100
SHORTEST_MM = 15_000
LIMIT_S = 2


def large_instance() -> tuple[list[CutDemand], list[FreeStretch]]:
    """Make the order and the stock: half of the stock is asked for."""
    chance = random.Random(8)  # noqa: S311 -- an instance, no secret
    lengths = [chance.randrange(200, 1000) / 10 for _ in range(LENGTHS)]
    reels = [chance.randrange(1000, 3000) / 10 for _ in range(REELS)]
    demands = [want(m, line=f"O-00001.{n}") for n, m in enumerate(lengths, start=1)]
    return demands, [free(f"R-{n}", 0, m) for n, m in enumerate(reels, start=1)]


def proposing(*, pairs: int) -> Ratio:
    """Time both; the wording tells what each leaves unusable and how many reels it opens."""
    demands, stock = large_instance()
    ours = propose_cuts(demands, stock, shortest_usable_mm=SHORTEST_MM).score
    theirs = first_fit(demands, stock, shortest_mm=SHORTEST_MM)
    wasted = f"{ours.unusable_mm / 1000:g} m against {theirs.unusable_mm / 1000:g} m"
    told = f"first fit; unusable {wasted}, reels {ours.reels} against {theirs.reels}"
    return compare(
        "propose cuts, 200 of 100 reels",
        ours=lambda: propose_cuts(demands, stock, shortest_usable_mm=SHORTEST_MM),
        peer=lambda: first_fit(demands, stock, shortest_mm=SHORTEST_MM),
        against=told,
        pairs=pairs,
    )
