from dataclasses import replace

import pytest

from inventory.rules.cutting_exact import bounded, choices, proved
from inventory.rules.cutting_job import Layout, job_of
from inventory.rules.whole_number_model import WholeNumberModel
from tests.inventory.rules.cutting import M, free, reels, want, wants

REAL = WholeNumberModel.minimise


def layout(demands, stock, *slots, shortest_m=0):
    found = Layout.empty(job_of(demands, stock, shortest_usable_mm=shortest_m * M))
    for number, slot in enumerate(slots):
        found.put(number, slot, found.job.wants[number].length)
    return found


@pytest.fixture
def wasteful():
    # All from one reel leaves 5 m of no use; from two nothing is lost.
    return layout(wants(60, 35), reels(100, 60), 0, 0, shortest_m=10)


def test_a_poor_plan_is_bettered_and_proved(wasteful):
    found = proved(wasteful)
    assert found.layout.score()[:3] == found.bound == (0, 0, 2)
    assert found.is_best


def test_a_length_left_out_is_cut(wasteful):
    found = proved(layout(wants(60, 35), reels(60, 35)))
    assert found.layout.score()[:3] == (0, 0, 2)


def test_the_oldest_reels_are_taken_of_equal_plans():
    found = proved(layout(wants(60), reels(50, 70, 100), 2))
    assert found.layout.opened() == {1}


def test_counting_alone_does_not_call_a_poor_plan_best(wasteful):
    assert not bounded(wasteful).is_best


def test_choices_are_pairs_that_fit():
    assert choices(job_of(wants(60, 35), reels(100, 50, 20), shortest_usable_mm=0)) == 3


def test_without_an_answer_the_plan_stands_and_is_not_called_best(wasteful, monkeypatch):
    monkeypatch.setattr(WholeNumberModel, "minimise", lambda *_, **__: None)
    found = proved(wasteful)
    assert found.layout is wasteful
    assert not found.is_best


def test_an_answer_that_breaks_a_row_is_not_believed(wasteful, monkeypatch):
    def lie(model, objective, *, seconds):
        honest = REAL(model, objective, seconds=seconds)
        return replace(honest, values=tuple(9 for _ in honest.values))

    monkeypatch.setattr(WholeNumberModel, "minimise", lie)
    assert proved(wasteful).layout is wasteful


def test_a_plan_is_bettered_without_being_proved_when_time_runs_out(wasteful, monkeypatch):
    def hasty(model, objective, *, seconds):
        honest = REAL(model, objective, seconds=seconds)
        return replace(honest, is_optimal=False, bound=-1000)

    monkeypatch.setattr(WholeNumberModel, "minimise", hasty)
    found = proved(wasteful)
    assert found.layout.score()[1] == 0


def test_an_answer_without_a_bound_proves_nothing(monkeypatch):
    def boundless(model, objective, *, seconds):
        honest = REAL(model, objective, seconds=seconds)
        return replace(honest, is_optimal=False, bound=None)

    monkeypatch.setattr(WholeNumberModel, "minimise", boundless)
    # 60 and 40 of three lengths fit one reel and 70 does not: by counting alone 70 m are unmet.
    found = proved(layout(wants(70, 60, 40), reels(100), 0))
    assert found.layout.score()[0] * found.layout.job.unit_mm == 70 * M
    assert found.bound[0] * found.layout.job.unit_mm == 70 * M
    poor = proved(layout(wants(60, 50), reels(100)))
    assert (poor.layout.score()[0], poor.bound[0], poor.is_best) == (5, 1, False)


def test_the_age_of_reels_is_decided_only_where_it_is_certain(monkeypatch):
    monkeypatch.setattr(WholeNumberModel, "minimise", lambda *_, **__: None)
    found = proved(layout(wants(60), reels(70, 100), 1))
    assert found.is_best
    assert found.layout.opened() == {1}


def test_a_line_in_any_lengths_is_dealt_out_exactly():
    loose = want(24, line="O-00001.2", is_one_length=False)
    start = Layout.empty(job_of([want(92), loose], reels(100, 100), shortest_usable_mm=8 * M))
    found = proved(start)
    assert found.layout.score()[:3] == found.bound == (0, 0, 2)


def test_a_line_in_any_lengths_never_gets_scraps():
    loose = want(70, is_one_length=False)
    stock = [free("R-1", 0, 60), free("R-2", 0, 62)]
    found = proved(Layout.empty(job_of([loose], stock, shortest_usable_mm=10 * M)))
    unit = found.layout.job.unit_mm
    assert min(n * unit for placed in found.layout.pieces for _, n in placed) >= 10 * M
