"""Two hundred lengths over a hundred reels: sound, far better than a first fit, in time."""

import time

from inventory.rules.cutting_check import check_cuts
from inventory.rules.cutting_plan import propose_cuts
from tests.bench.cutting import LIMIT_S, SHORTEST_MM, large_instance
from tests.inventory.rules.cutting import first_fit


def test_a_large_order_is_planned_in_time_with_next_to_no_waste():
    demands, stock = large_instance()
    start = time.perf_counter()
    plan = propose_cuts(demands, stock, shortest_usable_mm=SHORTEST_MM)
    assert time.perf_counter() - start < LIMIT_S
    assert check_cuts(plan.cuts, demands=demands, stock=stock) == []
    plain = first_fit(demands, stock, shortest_mm=SHORTEST_MM)
    assert plan.score.unmet_mm == 0
    assert plan.score.unusable_mm * 10 <= plain.unusable_mm
    assert plan.score.reels <= plain.reels
