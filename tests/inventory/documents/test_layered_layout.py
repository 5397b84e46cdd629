from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.documents.layered_layout import count_crossings, lay_out, layer_of_each, settle


@pytest.mark.parametrize(
    ("targets", "layers"),
    [
        pytest.param({"a": []}, {"a": 0}, id="alone"),
        pytest.param({"a": ["b"], "b": []}, {"a": 0, "b": 1}, id="one step"),
        pytest.param(
            {"a": ["b", "c"], "b": ["c"], "c": []},
            {"a": 0, "b": 1, "c": 2},
            id="the longest way counts",
        ),
        pytest.param(
            {"a": ["b"], "b": ["c"], "c": [], "late": ["c"]},
            {"a": 0, "b": 1, "c": 2, "late": 1},
            id="a source stands before its first use",
        ),
    ],
)
def test_layers_follow_the_longest_path(targets, layers):
    assert layer_of_each(list(targets), targets=targets) == layers


def test_a_circle_is_refused():
    with pytest.raises(ValueError, match="circle"):
        lay_out(["a", "b"], targets={"a": ["b"], "b": ["a"]})


def test_crossed_links_are_counted():
    rows = [[("a", 0), ("b", 0)], [("c", 1), ("d", 1)]]
    crossed = {("a", 0): [("d", 1)], ("b", 0): [("c", 1)]}
    assert count_crossings(rows, crossed) == 1


def test_a_twisted_pair_is_untwisted():
    layout = lay_out(["a", "b", "c", "d"], targets={"a": ["d"], "b": ["c"], "c": [], "d": []})
    assert (layout.height["a"] < layout.height["b"]) == (layout.height["d"] < layout.height["c"])


def test_a_long_edge_has_a_way_point_in_each_layer():
    layout = lay_out(["a", "b", "c"], targets={"a": ["b", "c"], "b": ["c"], "c": []})
    assert [layer for layer, _ in layout.ways["a", "c"]] == [0, 1, 2]


@given(st.lists(st.floats(-50, 50), min_size=1, max_size=30))
def test_settled_places_keep_their_distance(wishes):
    stacked = [float(i) for i in range(len(wishes))]
    places = settle(wishes, stacked)
    assert all(b - a >= 1 - 1e-6 for a, b in pairwise(places))
    assert sum(places) == pytest.approx(sum(wishes), abs=1e-6)


@given(st.lists(st.integers(0, 9), min_size=1, max_size=10))
def test_wishes_that_leave_room_are_granted(gaps):
    wishes = [float(sum(gaps[: i + 1]) + i) for i in range(len(gaps))]
    assert settle(wishes, [float(i) for i in range(len(gaps))]) == pytest.approx(wishes)


@st.composite
def any_tree_with_joins(draw):
    size = draw(st.integers(1, 40))
    return {
        str(i): sorted(draw(st.sets(st.integers(i + 1, size - 1).map(str), max_size=3)))
        if i + 1 < size
        else []
        for i in range(size)
    }


@given(any_tree_with_joins())
def test_edges_run_to_the_right_and_no_nodes_overlap(targets):
    layout = lay_out(list(targets), targets=targets)
    assert all(layout.layer[a] < layout.layer[b] for a, below in targets.items() for b in below)
    for layer in range(layout.layers):
        heights = sorted(layout.height[key] for key in targets if layout.layer[key] == layer)
        assert all(b - a >= 1 - 1e-6 for a, b in pairwise(heights))
