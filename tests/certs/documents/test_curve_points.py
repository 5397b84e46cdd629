from hypothesis import given
from hypothesis import strategies as st

from certs.documents.curve_points import thinned, where_force_was

rising_times = st.lists(st.tuples(st.floats(0, 100), st.floats(-9, 9)), max_size=200).map(sorted)


def test_a_column_keeps_first_lowest_highest_and_last():
    points = [(0.0, 5.0), (0.1, 9.0), (0.2, 6.0), (0.3, 1.0), (0.4, 6.5), (0.45, 7.0)]
    assert list(thinned(points, column=0.5)) == [points[i] for i in (0, 1, 3, 5)]


@given(rising_times)
def test_no_extreme_is_lost_and_no_point_invented(points):
    kept = list(thinned(points, column=0.5))
    forces = [[force for _, force in some] for some in (points, kept)]
    assert max(forces[0], default=0) == max(forces[1], default=0)
    assert min(forces[0], default=0) == min(forces[1], default=0)
    assert set(kept) <= set(points)


@given(rising_times)
def test_thinning_twice_changes_nothing_more(points):
    once = list(thinned(points, column=0.5))
    assert list(thinned(once, column=0.5)) == once


def test_a_disturbance_above_the_peak_is_not_marked_as_the_peak():
    curve = [[0, 0], [10_000, 14_900], [35_000, 19_450], [36_000, 14_930], [80_000, 0]]
    assert where_force_was(curve, force_n=14_930) == (36.0, 14_930.0)
