"""Against the vectors of transparency-dev/merkle and C2SP, and against the program's own way."""

import json
from base64 import b64decode, b64encode

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from django.conf import settings
from hypothesis import given
from hypothesis import strategies as st

from certs.documents.verifier import log_note
from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.hash_tree import leaf_of, proves_consistency, proves_inclusion
from inventory.rules import merkle

VECTORS = settings.ROOT / "tests" / "vectors"
NOTES = json.loads((VECTORS / "c2sp_signed_note.json").read_text())["cases"]
# Its roots are place holders of twelve bytes; see the README of the vectors.
PLACE_HOLDER = "sizes are equal (one) and proof is empty"
KEY = Ed25519PrivateKey.from_private_bytes(bytes(32))
PUBLIC = KEY.public_key().public_bytes_raw()
ENTRY = b'{"number":2}'
LEAVES = [merkle.leaf_hash(data) for data in (b"a", b"b", ENTRY, b"d", b"e")]

trees = st.lists(st.binary(max_size=4).map(merkle.leaf_hash), min_size=1, max_size=40)


def published(kind):
    cases = json.loads((VECTORS / f"merkle_{kind}_proofs.json").read_text())["cases"]
    return [pytest.param(case, id=case["file"].removeprefix("testdata/")) for case in cases]


def path_of(case):
    return [b64decode(node) for node in case["proof"] or []]


@pytest.mark.parametrize("case", published("inclusion"))
def test_published_inclusion_proofs(case):
    is_proved = proves_inclusion(
        index=case["leafIdx"],
        size=case["treeSize"],
        leaf=b64decode(case["leafHash"]),
        path=path_of(case),
        root=b64decode(case["root"]),
    )
    assert is_proved is not case["wantErr"]


@pytest.mark.parametrize("case", published("consistency"))
def test_published_consistency_proofs(case):
    is_proved = proves_consistency(
        old_size=case["size1"],
        new_size=case["size2"],
        old_root=b64decode(case["root1"]),
        new_root=b64decode(case["root2"]),
        path=path_of(case),
    )
    is_wanted = not case["wantErr"] and case["desc"] != PLACE_HOLDER
    assert is_proved is is_wanted


@given(trees, st.data())
def test_takes_what_the_program_proves_and_nothing_near_it(leaves, data):
    index = data.draw(st.integers(0, len(leaves) - 1))
    path = merkle.inclusion_path(index, leaves)
    told = {"index": index, "size": len(leaves), "root": merkle.root(leaves)}
    assert proves_inclusion(leaf=leaves[index], path=path, **told)
    assert not proves_inclusion(leaf=leaf_of(b"other text"), path=path, **told)
    assert not proves_inclusion(leaf=leaves[index], path=[*path, bytes(32)], **told)


@given(trees, st.data())
def test_takes_growth_and_no_change_of_the_past(leaves, data):
    old_size = data.draw(st.integers(1, len(leaves)))
    told = {
        "old_size": old_size,
        "new_size": len(leaves),
        "new_root": merkle.root(leaves),
        "path": merkle.consistency_path(old_size, leaves),
    }
    assert proves_consistency(old_root=merkle.root(leaves[:old_size]), **told)
    changed = [leaf_of(b"other text"), *leaves[1:old_size]]
    assert not proves_consistency(old_root=merkle.root(changed), **told)


@pytest.mark.parametrize("case", NOTES, ids=[case["source"] for case in NOTES])
def test_published_notes(case):
    key = log_note.read_log_key(case["vkey"])
    text, signatures = log_note.read_note(case["note"])
    assert log_note.is_signed_note(text, signatures, key) is case["valid"]


@pytest.mark.parametrize(
    "line",
    [
        pytest.param("", id="nothing"),
        pytest.param(NOTES[0]["vkey"].replace("530d", "530e"), id="another number"),
        pytest.param("name+00000000+AAAA", id="too short"),
        pytest.param("name+00000000+AA=A", id="no base64"),
    ],
)
def test_what_is_no_key_of_a_journal_is_refused(line):
    with pytest.raises(NotReadableError):
        log_note.read_log_key(line)


def signed(text, name="house/log", key=KEY):
    key_id = log_note.log_key(name, key.public_key().public_bytes_raw()).key_id
    return f"{text}\n— {name} {b64encode(key_id + key.sign(text.encode())).decode()}\n"


def checkpoint(name="house/log", key=KEY):
    root = b64encode(merkle.root(LEAVES)).decode()
    return signed(f"house/log\n5\n{root}\n", name, key)


def proof(**changes):
    parts = {
        "first": "c2sp.org/tlog-proof@v1",
        "extra": f"extra {b64encode(ENTRY).decode()}",
        "index": "index 2",
        "path": "\n".join(b64encode(node).decode() for node in merkle.inclusion_path(2, LEAVES)),
    }
    return "\n".join({**parts, **changes}.values()) + "\n\n" + checkpoint()


def test_a_proof_leads_from_its_entry_to_a_signed_checkpoint():
    read = log_note.read_entry_proof(proof())
    assert (read.entry, read.place, read.head.size) == (ENTRY, 2, 5)
    assert log_note.is_proved_entry(read)
    assert log_note.is_signed_head(read.head, [bytes(32), PUBLIC])


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"extra": f"extra {b64encode(b'another').decode()}"}, id="another entry"),
        pytest.param({"index": "index 1"}, id="another place"),
        pytest.param({"path": b64encode(bytes(32)).decode()}, id="another path"),
    ],
)
def test_a_changed_proof_proves_nothing(changes):
    assert not log_note.is_proved_entry(log_note.read_entry_proof(proof(**changes)))


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"first": "c2sp.org/tlog-proof@v2"}, id="another format"),
        pytest.param({"extra": "index 2"}, id="no entry"),
        pytest.param({"index": "index 02"}, id="a number with a zero before it"),
        pytest.param({"index": "2"}, id="no index"),
        pytest.param({"path": "AAA"}, id="no base64"),
    ],
)
def test_what_is_no_proof_is_refused(changes):
    with pytest.raises(NotReadableError):
        log_note.read_entry_proof(proof(**changes))


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(checkpoint(name="other/log"), id="signed as another journal"),
        pytest.param(
            checkpoint(key=Ed25519PrivateKey.from_private_bytes(b"1" * 32)), id="by another key"
        ),
        pytest.param(checkpoint().replace("\n5\n", "\n6\n"), id="another size"),
    ],
)
def test_a_checkpoint_that_the_house_did_not_sign(text):
    assert not log_note.is_signed_head(log_note.read_head(text), [PUBLIC])


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("house/log\n5\n", id="no signature"),
        pytest.param(signed("house/log\n5\n"), id="no root"),
        pytest.param(signed("house/log\n5\nAAAA\n"), id="a short root"),
        pytest.param(signed("house/log\n-5\nAAAA\n"), id="no size"),
        pytest.param(checkpoint().replace("\n5\n", "\n5\nextra\n"), id="a line more"),
        pytest.param(checkpoint().replace("—", "-"), id="another dash"),
        pytest.param(checkpoint().replace("house", "ho\tuse"), id="a control character"),
    ],
)
def test_what_is_no_checkpoint_is_refused(text):
    with pytest.raises(NotReadableError):
        log_note.read_head(text)
