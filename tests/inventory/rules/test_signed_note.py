"""Against the example of C2SP signed-note and that of Go's note package."""

import hashlib
import json
from base64 import b64encode
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.signed_note import (
    MOST_SIGNATURES,
    NotANote,
    NotSigned,
    open_note,
    read_note,
    read_note_key,
    sign_note,
)
from tests.note_keys import NoteHand

VECTORS = Path(__file__).parents[2] / "vectors"
PUBLISHED = json.loads((VECTORS / "c2sp_signed_note.json").read_text())["cases"]
NAME = "records.example/log"
HAND, OTHER = NoteHand(0), NoteHand(1)
NOTE = sign_note("one\ntwo\n", name=NAME, signers=[HAND])


@pytest.mark.parametrize("case", PUBLISHED, ids=lambda case: case["source"])
def test_the_published_notes(case):
    keys = [read_note_key(case["vkey"])]
    if case["valid"]:
        text, signed = open_note(case["note"], keys=keys)
        assert case["note"].startswith(f"{text}\n— ")
        assert list(signed) == keys
    else:
        with pytest.raises(NotSigned):
            open_note(case["note"], keys=keys)


@pytest.mark.parametrize("case", PUBLISHED, ids=lambda case: case["source"])
def test_a_key_is_written_as_it_was_published(case):
    assert str(read_note_key(case["vkey"])) == case["vkey"]


def test_the_published_note_of_two_signatures_keeps_both():
    read = read_note(PUBLISHED[1]["note"])
    assert [line.name for line in read.signatures] == ["PeterNeumann", "EnochRoot"]


def test_the_id_of_a_key_is_that_of_its_name_and_bytes():
    """C2SP signed-note: SHA-256(name, newline, 0x01, public key), its first four bytes."""
    hashed = hashlib.sha256(NAME.encode() + b"\n\x01" + HAND.public_key_bytes).digest()
    assert HAND.key(NAME).key_id == hashed[:4]
    assert read_note(NOTE).signatures[0].key_id == hashed[:4]


@given(st.text(alphabet=st.characters(exclude_categories=["Cs", "Cc"]), max_size=40))
def test_what_is_signed_is_read_again(line):
    note = sign_note(f"{line}\n", name=NAME, signers=[HAND, OTHER])
    text, signed = open_note(note, keys=[OTHER.key(NAME), HAND.key(NAME)])
    assert text == f"{line}\n"
    assert signed == (HAND.key(NAME), OTHER.key(NAME))


@given(st.data())
def test_no_other_byte_may_stand_anywhere_in_a_note(data):
    raw = NOTE.encode()
    at = data.draw(st.integers(0, len(raw) - 1))
    other = data.draw(st.integers(0, 255).filter(lambda value: value != raw[at]))
    changed = (raw[:at] + bytes([other]) + raw[at + 1 :]).decode(errors="replace")
    with pytest.raises((NotANote, NotSigned)):
        open_note(changed, keys=[HAND.key(NAME)])


def test_a_signature_of_an_unknown_key_is_passed_over():
    note = sign_note("one\n", name=NAME, signers=[OTHER, HAND])
    assert open_note(note, keys=[HAND.key(NAME)])[1] == (HAND.key(NAME),)


@pytest.mark.parametrize(
    "known",
    [
        pytest.param([], id="no key is known"),
        pytest.param([OTHER.key(NAME)], id="another key of this name"),
        pytest.param([HAND.key("other.example/log")], id="this key under another name"),
    ],
)
def test_a_note_without_a_known_signature_is_refused(known):
    with pytest.raises(NotSigned, match="no known key"):
        open_note(NOTE, keys=known)


def test_a_known_key_whose_signature_fails_spoils_the_whole_note():
    wrong = b64encode(OTHER.key(NAME).key_id + bytes(64)).decode()
    note = f"{NOTE}— {NAME} {wrong}\n"
    assert open_note(note, keys=[HAND.key(NAME)])
    with pytest.raises(NotSigned, match="does not hold"):
        open_note(note, keys=[HAND.key(NAME), OTHER.key(NAME)])


def test_a_note_may_carry_sixteen_signatures_and_more_but_not_any_number():
    line = NOTE.rpartition("\n\n")[2]
    most = NOTE + line * (MOST_SIGNATURES - 1)
    assert MOST_SIGNATURES >= 16
    assert open_note(most, keys=[HAND.key(NAME)])
    with pytest.raises(NotANote):
        open_note(most + line, keys=[HAND.key(NAME)])


LINE = NOTE.rpartition("\n\n")[2]


@pytest.mark.parametrize(
    "note",
    [
        pytest.param("", id="nothing"),
        pytest.param("one\n", id="a text alone"),
        pytest.param("one\n\n", id="no signature line"),
        pytest.param(NOTE[:-1], id="no newline at the end"),
        pytest.param(f"one\n{LINE}", id="no empty line"),
        pytest.param(f"o\tne\n\n{LINE}", id="a control character"),
        pytest.param(f"o\ud800ne\n\n{LINE}", id="half a surrogate pair"),
        pytest.param(NOTE.replace("— ", "- "), id="a hyphen for the dash"),
        pytest.param("one\n\n— a+b AAAAAAAA\n", id="a plus in the name"),
        pytest.param("one\n\n—  AAAAAAAA\n", id="no name"),
        pytest.param("one\n\n— a AAAAAA==\n", id="an id without a signature"),
        pytest.param("one\n\n— a AAAA AAAA\n", id="a space in the signature"),
        pytest.param("one\n\n— a AAAAAAB=\n", id="bits left over in the base64"),
    ],
)
def test_what_is_no_note(note):
    with pytest.raises(NotANote):
        read_note(note)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        pytest.param("one", NAME, id="no newline at the end"),
        pytest.param("one\r\n", NAME, id="a control character"),
        pytest.param("one\n", "", id="no name"),
        pytest.param("one\n", "a b", id="a space in the name"),
        pytest.param("one\n", "a\N{NO-BREAK SPACE}b", id="a space of Unicode in the name"),
        pytest.param("one\n", "a+b", id="a plus in the name"),
    ],
)
def test_what_may_not_stand_in_a_note_is_not_signed(text, name):
    with pytest.raises(NotANote):
        sign_note(text, name=name, signers=[HAND])


def test_a_note_needs_a_signer():
    with pytest.raises(NotANote):
        sign_note("one\n", name=NAME, signers=[])


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("", id="nothing"),
        pytest.param("example.com/foo", id="a name alone"),
        pytest.param(PUBLISHED[0]["vkey"].replace("+530d903a", "+530d903b"), id="another id"),
        pytest.param(PUBLISHED[0]["vkey"].replace("/foo", "/bar"), id="another name"),
        pytest.param(PUBLISHED[0]["vkey"].replace("+Ae", "+Be"), id="another kind of key"),
        pytest.param(PUBLISHED[0]["vkey"][:-4], id="a key too short"),
    ],
)
def test_what_is_no_key(text):
    with pytest.raises(NotANote):
        read_note_key(text)
