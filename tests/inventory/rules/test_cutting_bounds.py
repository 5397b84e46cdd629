"""A bound may be low, never high: it is compared with the best of all ways to cut."""

from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.rules.cutting_bounds import fewest_reels, least_unmet, least_unusable
from inventory.rules.cutting_job import job_of
from tests.inventory.rules.cutting import (
    M,
    best_by_trying_all,
    free,
    instances,
    reels,
    want,
    wants,
)


def job(demands, stock, shortest_m=0):
    return job_of(demands, stock, shortest_usable_mm=shortest_m * M)


@settings(deadline=None, max_examples=100)
@given(instances(), st.integers(0, 8))
def test_no_bound_is_above_the_best_there_is(instance, shortest_m):
    demands, stock = instance
    best = best_by_trying_all(demands, stock, shortest_mm=shortest_m * M)
    counted = job(demands, stock, shortest_m)
    assert least_unmet(counted) * counted.unit_mm <= best.unmet_mm
    assert least_unusable(counted) * counted.unit_mm <= best.unusable_mm
    assert fewest_reels(counted, unmet=best.unmet_mm // counted.unit_mm) <= best.reels


def test_a_length_that_no_stretch_has_is_surely_unmet():
    assert least_unmet(job(wants(30, 80), reels(50, 60))) * 10 == 80


def test_what_exceeds_the_stock_is_surely_unmet():
    assert least_unmet(job(wants(30, 30, 30), reels(40, 40))) == 1


def test_a_stub_that_no_sum_uses_up_stays_unusable():
    counted = job(wants(5, 4), reels(100, 8), 10)
    assert least_unusable(counted) == 3


def test_a_line_in_any_lengths_may_use_up_every_stub():
    loose = want(10, is_one_length=False)
    assert least_unusable(job([loose], [free("R-1", 0, 12), free("R-2", 0, 100)], 14)) == 0
    assert least_unusable(job([loose], [free("R-1", 0, 9), free("R-2", 0, 100)], 14)) == 9


def test_long_pieces_need_a_reel_each():
    assert fewest_reels(job(wants(60, 60, 60), reels(100, 100, 100)), unmet=0) == 3


def test_nothing_to_cut_needs_no_reel():
    assert fewest_reels(job(wants(60), reels(100)), unmet=3) == 0
