from itertools import product
from math import inf
from types import SimpleNamespace

from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.rules.whole_number_model import WholeNumberModel

COEFFICIENTS = st.lists(st.integers(-9, 9), min_size=3, max_size=3)


def model_of(rows):
    model = WholeNumberModel()
    for _ in range(3):
        model.variable(most=4)
    for terms, high in rows:
        model.at_most(dict(enumerate(terms)), high)
    return model


@settings(deadline=None, max_examples=60)
@given(
    COEFFICIENTS,
    st.lists(st.tuples(COEFFICIENTS, st.integers(-10, 30)), min_size=1, max_size=3),
)
def test_a_small_model_is_solved_as_well_as_by_trying_all(objective, rows):
    model = model_of(rows)
    fit = [values for values in product(range(5), repeat=3) if model.holds(values)]
    found = model.minimise(dict(enumerate(objective)), seconds=5)
    if not fit:
        assert found is None
        return
    values = [sum(c * v for c, v in zip(objective, one, strict=True)) for one in fit]
    assert found.is_optimal
    assert found.bound == min(values)
    assert found.values in fit


def test_rows_hold_from_below_and_exactly():
    model = model_of([([1, 1, 1], 7)])
    model.at_least({0: 1}, 2)
    model.equal({1: 1, 2: -1}, 0)
    assert model.holds((2, 2, 2))
    assert not model.holds((1, 2, 2))
    assert not model.holds((2, 2, 1))
    assert not model.holds((2, 5, 5))


def test_without_a_finite_bound_nothing_is_called_best(monkeypatch):
    answer = SimpleNamespace(x=[0.0, 0.0, 0.0], status=1, mip_dual_bound=-inf)
    monkeypatch.setattr("inventory.rules.whole_number_model.milp", lambda *_, **__: answer)
    found = model_of([([1, 1, 1], 7)]).minimise({0: -1}, seconds=1)
    assert (found.is_optimal, found.bound) == (False, None)
