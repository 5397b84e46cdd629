import json
from hashlib import sha256
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.merkle import EMPTY_ROOT, leaf_hash, root
from inventory.rules.tree_growth import Node, grow, root_of_peaks

VECTORS = Path(__file__).parents[2] / "vectors"
PUBLISHED = json.loads((VECTORS / "merkle_rfc6962_roots.json").read_text())
SIZES = st.integers(min_value=0, max_value=200)


def _leaves(count):
    return [leaf_hash(str(number).encode()) for number in range(count)]


def _grown(leaves):
    size, peaks, nodes = 0, (), []
    for leaf in leaves:
        step = grow(size=size, peaks=peaks, leaf=leaf)
        size, peaks = step.size, step.peaks
        nodes.extend(step.nodes)
    return size, peaks, nodes


@pytest.mark.parametrize("size", range(1, 9))
def test_the_published_root_of_each_size_is_reached(size):
    """transparency-dev/merkle, testonly/constants.go: leaves d0 to d7, roots for sizes 1 to 8."""
    leaves = [leaf_hash(bytes.fromhex(text)) for text in PUBLISHED["leaf_inputs_hex"][:size]]
    grown, peaks, _ = _grown(leaves)
    assert root_of_peaks(size=grown, peaks=peaks).hex() == PUBLISHED["roots_by_size_hex"][str(size)]


def test_the_empty_tree_has_the_root_of_nothing():
    """RFC 9162, 2.1.1: the hash of an empty list is the hash of an empty string."""
    assert root_of_peaks(size=0, peaks=()) == sha256(b"").digest()


@given(SIZES)
def test_the_root_is_that_of_the_whole_list(size):
    leaves = _leaves(size)
    _, peaks, _ = _grown(leaves)
    assert root_of_peaks(size=size, peaks=peaks) == root(leaves)


@given(SIZES)
def test_each_node_is_the_root_of_its_own_leaves_and_none_is_missing(size):
    leaves = _leaves(size)
    _, _, nodes = _grown(leaves)
    spans = {(node.level, node.index): node.hash for node in nodes}
    complete = {
        (level, index): root(leaves[index << level : (index + 1) << level])
        for level in range(1, size.bit_length())
        for index in range(size >> level)
    }
    assert spans == complete
    assert len(nodes) == len(complete)


@given(SIZES)
def test_nodes_cost_less_than_one_a_leaf(size):
    _, peaks, nodes = _grown(_leaves(size))
    assert len(nodes) == size - len(peaks)


def test_the_eighth_leaf_completes_three_subtrees():
    leaves = _leaves(8)
    seven = _grown(leaves[:7])
    step = grow(size=seven[0], peaks=seven[1], leaf=leaves[7])
    assert step.nodes == (
        Node(1, 3, root(leaves[6:])),
        Node(2, 1, root(leaves[4:])),
        Node(3, 0, root(leaves)),
    )
    assert step.peaks == (root(leaves),)


@pytest.mark.parametrize("size", [0, 3, 4])
def test_peaks_that_do_not_fit_the_size_are_refused(size):
    peaks = (EMPTY_ROOT,) * (size.bit_count() + 1)
    with pytest.raises(ValueError, match="peaks"):
        grow(size=size, peaks=peaks, leaf=EMPTY_ROOT)
    with pytest.raises(ValueError, match="peaks"):
        root_of_peaks(size=size, peaks=peaks)
