from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.subset_sums import SubsetSums, up_to

LENGTHS = st.lists(st.integers(1, 30), max_size=7)


@given(LENGTHS, st.integers(0, 60))
def test_the_sums_are_those_of_all_choices(lengths, most):
    sums = SubsetSums.of(lengths, most=most)
    chosen = [c for n in range(len(lengths) + 1) for c in combinations(lengths, n)]
    possible = {sum(c) for c in chosen if sum(c) <= most}
    assert {s for s in range(most + 1) if (sums.reached[-1] >> s) & 1} == possible
    assert sums.highest(allowed=up_to(most)) == max(possible)


@given(LENGTHS, st.integers(0, 60))
def test_the_parts_of_a_sum_give_it(lengths, most):
    sums = SubsetSums.of(lengths, most=most)
    best = sums.highest(allowed=up_to(most))
    places = sums.parts_of(best)
    assert sum(lengths[place] for place in places) == best
    assert len(set(places)) == len(places)


def test_lengths_after_those_that_give_the_most_are_not_looked_at():
    sums = SubsetSums.of([5, 7, 2, 9], most=12, only_most=True)
    assert sums.lengths == (5, 7)
    assert sums.parts_of(12) == [0, 1]


@given(LENGTHS, st.integers(0, 60))
def test_the_highest_sum_is_the_same_whether_all_are_looked_at_or_not(lengths, most):
    one, other = (SubsetSums.of(lengths, most=most, only_most=only) for only in (True, False))
    assert one.highest(allowed=up_to(most)) == other.highest(allowed=up_to(most))


def test_no_sum_may_be_allowed():
    assert SubsetSums.of([5, 7], most=20).highest(allowed=1 << 6) is None


def test_below_nothing_there_are_no_sums():
    assert up_to(-1) == 0
