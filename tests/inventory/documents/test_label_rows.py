from itertools import permutations

from hypothesis import given
from hypothesis import strategies as st

from inventory.documents.label_rows import Label, stack_labels


def test_labels_far_apart_share_the_lowest_row():
    assert stack_labels([Label(0, 0, 30), Label(1, 100, 30)], rows=5) == {0: 0, 1: 0}


def test_crowded_labels_climb_to_the_left():
    labels = [Label(i, 10.0 * i, 30) for i in range(3)]
    assert stack_labels(labels, rows=5) == {0: 2, 1: 1, 2: 0}


def test_what_finds_no_row_is_left_out():
    labels = [Label(i, float(i), 30) for i in range(10)]
    assert stack_labels(labels, rows=3) == {9: 0, 8: 1, 7: 2}


def test_a_pressing_label_goes_before_the_others():
    labels = [Label(i, float(i), 30, is_pressing=i == 4) for i in range(10)]
    assert stack_labels(labels, rows=3)[4] == 0


labels_anywhere = st.lists(
    st.tuples(st.floats(0, 900), st.floats(5, 130), st.booleans()), max_size=60
).map(lambda items: [Label(i, *item) for i, item in enumerate(items)])


@given(labels_anywhere)
def test_no_leader_strikes_a_label_and_no_labels_touch(labels):
    rows = stack_labels(labels, rows=5)
    shown = [label for label in labels if label.key in rows]
    for one, other in permutations(shown, 2):
        if one.x <= other.x < one.x + one.width:
            assert rows[other.key] < rows[one.key]
