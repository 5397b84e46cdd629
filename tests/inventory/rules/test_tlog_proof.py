import json
from base64 import b64decode, b64encode
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.checkpoint import LogHead
from inventory.rules.merkle import inclusion_path, leaf_hash, root
from inventory.rules.signed_note import NotANote, NotSigned, sign_note
from inventory.rules.tlog_proof import LogProof, NotProved, check_proof, read_proof
from tests.note_keys import NoteHand

VECTORS = Path(__file__).parents[2] / "vectors"
ROOTS = json.loads((VECTORS / "merkle_rfc6962_roots.json").read_text())
ENTRIES = [bytes.fromhex(data) for data in ROOTS["leaf_inputs_hex"]]
ORIGIN, HAND = "records.example/log", NoteHand()


def checkpoint(root_hash, size=8):
    return sign_note(LogHead(ORIGIN, size, root_hash).text, name=ORIGIN, signers=[HAND])


def proof_of(index, *, extra=None):
    """A proof of a leaf of transparency-dev/merkle under its published root of eight."""
    path = inclusion_path(index, [leaf_hash(entry) for entry in ENTRIES])
    published = bytes.fromhex(ROOTS["roots_by_size_hex"]["8"])
    return LogProof(index, tuple(path), checkpoint(published), extra)


@pytest.mark.parametrize("index", range(8))
def test_every_published_leaf_is_proved_under_the_published_root(index):
    read = read_proof(proof_of(index).text)
    head = check_proof(read, entry=ENTRIES[index], keys=[HAND.key(ORIGIN)])
    assert (head.origin, head.size) == (ORIGIN, 8)


@pytest.mark.parametrize(
    "case",
    [
        pytest.param(case, id=case["file"].removeprefix("testdata/"))
        for case in json.loads((VECTORS / "merkle_inclusion_proofs.json").read_text())["cases"]
        if len(b64decode(case["root"])) == 32 and case["treeSize"] > 0 and case["leafIdx"] >= 0
    ],
)
def test_no_entry_stands_for_another_leaf_of_the_published_proofs(case):
    """The published leaves are hashes; no entry is known for them, so all must be refused."""
    path = tuple(b64decode(node) for node in case["proof"] or [])
    proof = LogProof(case["leafIdx"], path, checkpoint(b64decode(case["root"]), case["treeSize"]))
    with pytest.raises(NotProved):
        check_proof(proof, entry=b64decode(case["leafHash"]), keys=[HAND.key(ORIGIN)])


def test_the_layout_is_that_of_the_specification():
    """C2SP tlog-proof@v1: first line, extra, index, path, empty line, checkpoint verbatim."""
    proof = proof_of(5, extra=b"entry")
    lines = proof.text.split("\n")
    assert lines[:3] == ["c2sp.org/tlog-proof@v1", "extra ZW50cnk=", "index 5"]
    assert lines[3:6] == [b64encode(node).decode() for node in proof.path]
    assert lines[6] == ""
    assert "\n".join(lines[7:]) == proof.checkpoint


@given(st.integers(0, 7), st.none() | st.binary(max_size=20))
def test_a_proof_is_read_as_it_was_written(index, extra):
    proof = proof_of(index, extra=extra)
    assert read_proof(proof.text) == proof


def test_the_only_entry_of_a_log_needs_no_path():
    entry = b"first"
    proof = LogProof(0, (), checkpoint(root([leaf_hash(entry)]), 1))
    assert check_proof(read_proof(proof.text), entry=entry, keys=[HAND.key(ORIGIN)]).size == 1


def test_another_entry_is_not_proved():
    with pytest.raises(NotProved):
        check_proof(proof_of(3), entry=b"other", keys=[HAND.key(ORIGIN)])


def test_a_checkpoint_of_an_unknown_key_proves_nothing():
    with pytest.raises(NotSigned):
        check_proof(proof_of(3), entry=ENTRIES[3], keys=[NoteHand(1).key(ORIGIN)])


TEXT = proof_of(5, extra=b"entry").text


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("", id="nothing"),
        pytest.param(TEXT.replace("@v1", "@v2"), id="another version"),
        pytest.param(TEXT.replace("index 5\n", ""), id="no index"),
        pytest.param(TEXT.replace("index 5", "index 05"), id="a leading zero"),
        pytest.param(TEXT.replace("extra ZW50cnk=", "extra ZW50cnl="), id="bits left over"),
        pytest.param(TEXT.replace("extra ZW50cnk=", "extra ?"), id="no base64"),
        pytest.param(TEXT.replace("index 5\n", "index 5\nAAAA\n"), id="a short hash"),
        pytest.param(TEXT.partition("\n\n")[0], id="no checkpoint"),
        pytest.param(
            TEXT.replace("index 5\n", "index 5\n" + f"{'A' * 43}=\n" * 62), id="a path too long"
        ),
    ],
)
def test_what_is_no_proof(text):
    with pytest.raises(NotANote):
        read_proof(text)
