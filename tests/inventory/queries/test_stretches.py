"""Sets of metres, against the set of their millimetres."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from inventory.queries.stretches import joined, without
from inventory.rules.metres import Stretch

lists = st.lists(st.builds(lambda a, n: Stretch(a, a + n), st.integers(0, 30), st.integers(1, 9)))


def spread(stretches):
    return {mm for s in stretches for mm in range(s.from_mm, s.to_mm)}


@given(lists)
def test_joining_keeps_the_metres_in_stretches_that_do_not_touch(stretches):
    found = joined(stretches)
    assert spread(found) == spread(stretches)
    assert all(a.to_mm < b.from_mm for a, b in pairwise(found))


@given(lists, lists)
def test_leaving_out_keeps_the_other_metres(stretches, taken):
    assert spread(without(stretches, taken)) == spread(stretches) - spread(taken)
