"""Against the vectors of transparency-dev/merkle and the words of RFC 6962 and RFC 9162."""

import hashlib
import json
from base64 import b64decode
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules import merkle

VECTORS = Path(__file__).parents[2] / "vectors"
ROOTS = json.loads((VECTORS / "merkle_rfc6962_roots.json").read_text())
LEAVES = [merkle.leaf_hash(bytes.fromhex(data)) for data in ROOTS["leaf_inputs_hex"]]
# Its roots are place holders of twelve bytes; see the README of the vectors.
PLACE_HOLDER = "sizes are equal (one) and proof is empty"

trees = st.lists(st.binary(max_size=4).map(merkle.leaf_hash), min_size=1, max_size=40)


def published(kind):
    cases = json.loads((VECTORS / f"merkle_{kind}_proofs.json").read_text())["cases"]
    return [pytest.param(case, id=case["file"].removeprefix("testdata/")) for case in cases]


def path_of(case):
    return [b64decode(node) for node in case["proof"] or []]


def test_the_empty_tree_has_the_published_root():
    assert merkle.root([]).hex() == ROOTS["empty_root"]


@pytest.mark.parametrize("size", range(1, 9))
def test_roots_are_the_published_ones(size):
    assert merkle.root(LEAVES[:size]).hex() == ROOTS["roots_by_size_hex"][str(size)]


@pytest.mark.parametrize("case", published("inclusion"))
def test_published_inclusion_proofs(case):
    is_proved = merkle.verify_inclusion(
        index=case["leafIdx"],
        size=case["treeSize"],
        leaf=b64decode(case["leafHash"]),
        path=path_of(case),
        root_hash=b64decode(case["root"]),
    )
    assert is_proved is not case["wantErr"]


@pytest.mark.parametrize("case", published("consistency"))
def test_published_consistency_proofs(case):
    is_proved = merkle.verify_consistency(
        old_size=case["size1"],
        new_size=case["size2"],
        old_root=b64decode(case["root1"]),
        new_root=b64decode(case["root2"]),
        path=path_of(case),
    )
    assert is_proved is not (case["wantErr"] or case["desc"] == PLACE_HOLDER)


def test_the_place_holder_case_is_the_only_one_with_short_roots_that_should_pass():
    short = [
        case.values[0]["desc"]
        for case in published("consistency")
        if len(b64decode(case.values[0]["root1"])) != 32 and not case.values[0]["wantErr"]
    ]
    assert short == [PLACE_HOLDER]


@given(trees, st.data())
def test_a_made_inclusion_path_is_accepted_and_belongs_to_one_leaf(leaves, data):
    index = data.draw(st.integers(0, len(leaves) - 1))
    proof = {
        "size": len(leaves),
        "path": merkle.inclusion_path(index, leaves),
        "root_hash": merkle.root(leaves),
    }
    assert merkle.verify_inclusion(index=index, leaf=leaves[index], **proof)
    assert not merkle.verify_inclusion(index=index, leaf=merkle.leaf_hash(b"other"), **proof)


@given(trees, st.data())
def test_a_made_consistency_path_is_accepted_and_tells_a_changed_past(leaves, data):
    old_size = data.draw(st.integers(1, len(leaves)))
    changed = [merkle.leaf_hash(b"changed"), *leaves[1:]]
    proof = {
        "old_size": old_size,
        "new_size": len(leaves),
        "path": merkle.consistency_path(old_size, leaves),
        "new_root": merkle.root(leaves),
    }
    assert merkle.verify_consistency(old_root=merkle.root(leaves[:old_size]), **proof)
    assert not merkle.verify_consistency(old_root=merkle.root(changed[:old_size]), **proof)


@pytest.mark.parametrize("size", range(1, 34))
def test_every_past_of_a_small_tree_is_proved(size):
    leaves = [merkle.leaf_hash(bytes([number])) for number in range(size)]
    assert all(
        merkle.verify_consistency(
            old_size=old_size,
            new_size=size,
            old_root=merkle.root(leaves[:old_size]),
            new_root=merkle.root(leaves),
            path=merkle.consistency_path(old_size, leaves),
        )
        for old_size in range(1, size + 1)
    )


@given(trees, st.data())
def test_no_proof_survives_a_node_lost_or_added(leaves, data):
    index = data.draw(st.integers(0, len(leaves) - 1))
    path = merkle.inclusion_path(index, leaves)
    for wrong in ([*path, merkle.EMPTY_ROOT], path[1:] if path else [merkle.EMPTY_ROOT]):
        assert not merkle.verify_inclusion(
            index=index,
            size=len(leaves),
            leaf=leaves[index],
            path=wrong,
            root_hash=merkle.root(leaves),
        )


@given(trees, st.data())
def test_no_proof_of_a_past_survives_a_node_lost_or_added(leaves, data):
    old_size = data.draw(st.integers(1, len(leaves)))
    path = merkle.consistency_path(old_size, leaves)
    for wrong in ([*path, merkle.EMPTY_ROOT], path[:-1] if path else [merkle.EMPTY_ROOT]):
        assert not merkle.verify_consistency(
            old_size=old_size,
            new_size=len(leaves),
            old_root=merkle.root(leaves[:old_size]),
            new_root=merkle.root(leaves),
            path=wrong,
        )


@pytest.mark.parametrize("index", [-1, 8])
def test_a_leaf_that_is_not_there_has_no_path(index):
    with pytest.raises(IndexError, match="no leaf"):
        merkle.inclusion_path(index, LEAVES)


@pytest.mark.parametrize("old_size", [0, 9])
def test_a_tree_that_never_was_has_no_path(old_size):
    with pytest.raises(IndexError, match="no tree"):
        merkle.consistency_path(old_size, LEAVES)


@pytest.mark.parametrize(
    ("old_size", "new_size", "old_root", "is_proved"),
    [
        pytest.param(0, 0, merkle.EMPTY_ROOT, True, id="empty to empty"),
        pytest.param(0, 0, LEAVES[0], False, id="empty tree with another root"),
        pytest.param(0, 1, merkle.EMPTY_ROOT, False, id="empty to more"),
        pytest.param(2, 1, LEAVES[0], False, id="shrinking"),
    ],
)
def test_edges_of_consistency(old_size, new_size, old_root, is_proved):
    sizes = {"old_size": old_size, "new_size": new_size}
    proved = merkle.verify_consistency(**sizes, old_root=old_root, new_root=old_root, path=[])
    assert proved is is_proved


def test_a_link_of_the_chain_is_its_own_kind_of_hash():
    # The layout is this project's own; the hash beneath it is the standard library's.
    expected = hashlib.sha256(b"\x02" + merkle.EMPTY_ROOT + LEAVES[0]).digest()
    assert merkle.chain_hash(merkle.EMPTY_ROOT, LEAVES[0]) == expected
    assert expected != merkle.node_hash(merkle.EMPTY_ROOT, LEAVES[0])


@pytest.mark.parametrize("pair", [(b"", LEAVES[0]), (LEAVES[0], b"x" * 31)])
def test_a_link_joins_whole_hashes_only(pair):
    with pytest.raises(ValueError, match="32 bytes"):
        merkle.chain_hash(*pair)
