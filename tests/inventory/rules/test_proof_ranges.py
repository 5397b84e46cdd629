import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules import merkle
from inventory.rules.proof_ranges import (
    Place,
    Stretch,
    consistency_stretches,
    inclusion_stretches,
    places_of,
    stretch_root,
)

SIZE = 200
LEAVES = [merkle.leaf_hash(bytes([number])) for number in range(SIZE)]
STORED = {
    Place(level, index): merkle.root(LEAVES[index << level : (index + 1) << level])
    for level in range(SIZE.bit_length())
    for index in range(SIZE >> level)
}


def roots(stretches):
    return [stretch_root(stretch, STORED) for stretch in stretches]


@given(st.data())
def test_an_inclusion_path_is_that_of_the_definition(data):
    """RFC 9162, 2.1.3.1, in `merkle`, which the published vectors check."""
    size = data.draw(st.integers(1, SIZE))
    index = data.draw(st.integers(0, size - 1))
    made = roots(inclusion_stretches(index=index, size=size))
    assert made == merkle.inclusion_path(index, LEAVES[:size])


@given(st.data())
def test_a_consistency_path_is_that_of_the_definition(data):
    """RFC 9162, 2.1.4.1, likewise."""
    size = data.draw(st.integers(1, SIZE))
    old_size = data.draw(st.integers(1, size))
    made = roots(consistency_stretches(old_size=old_size, new_size=size))
    assert made == merkle.consistency_path(old_size, LEAVES[:size])


@given(st.integers(0, SIZE))
def test_the_root_of_any_size_is_that_of_the_definition(size):
    assert stretch_root(Stretch(0, size), STORED) == merkle.root(LEAVES[:size])


@given(st.integers(1, 2**40), st.data())
def test_a_proof_rests_on_few_places(size, data):
    index = data.draw(st.integers(0, size - 1))
    levels = size.bit_length()
    assert len(places_of(inclusion_stretches(index=index, size=size))) <= 2 * levels
    stretches = consistency_stretches(old_size=index + 1, new_size=size)
    assert len(places_of(stretches)) <= 2 * levels + 1


@pytest.mark.parametrize(("index", "size"), [(-1, 3), (3, 3), (0, 0)])
def test_a_leaf_that_is_not_there_has_no_path(index, size):
    with pytest.raises(IndexError, match="no leaf"):
        inclusion_stretches(index=index, size=size)


@pytest.mark.parametrize(("old_size", "new_size"), [(0, 3), (4, 3)])
def test_a_tree_that_never_was_has_no_path(old_size, new_size):
    with pytest.raises(IndexError, match="no tree"):
        consistency_stretches(old_size=old_size, new_size=new_size)


def test_a_hash_that_is_missing_is_said_so():
    with pytest.raises(KeyError):
        stretch_root(Stretch(0, 3), {Place(1, 0): LEAVES[0]})
