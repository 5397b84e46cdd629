import hashlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.checkpoint import (
    LogHead,
    log_origin,
    open_checkpoint,
    read_head,
    short_root,
)
from inventory.rules.signed_note import NotANote, NotSigned, sign_note
from tests.note_keys import NoteHand

# C2SP tlog-checkpoint v1.0.0, the example at its head; its key is not published.
PUBLISHED = "example.com/behind-the-sofa\n20852163\nCsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=\n"
ORIGIN = "records.example/log"
ROOT = hashlib.sha256(b"root").digest()


def test_the_published_example():
    head = read_head(PUBLISHED)
    assert (head.origin, head.size) == ("example.com/behind-the-sofa", 20852163)
    assert head.root.hex().startswith("0ac5186a91863e8e1d90c808")
    assert head.text == PUBLISHED


@given(st.integers(0, 10**18), st.binary(min_size=32, max_size=32))
def test_a_head_is_read_as_it_was_written(size, root):
    head = LogHead(ORIGIN, size, root)
    assert read_head(head.text) == head


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("", id="nothing"),
        pytest.param(PUBLISHED[:-1], id="no newline at the end"),
        pytest.param(PUBLISHED + "more\n", id="an extension line"),
        pytest.param(PUBLISHED.replace("20852163", "020852163"), id="a leading zero"),
        pytest.param(PUBLISHED.replace("20852163", "-1"), id="a size below zero"),
        pytest.param(PUBLISHED.replace("20852163", "٣"), id="digits of another script"),
        pytest.param(PUBLISHED.replace("q2I=", "q2J="), id="bits left over in the root"),
        pytest.param(PUBLISHED.replace("CsUYapGG", "CsUY"), id="a root too short"),
        pytest.param("\n" + PUBLISHED.partition("\n")[2], id="no origin"),
    ],
)
def test_what_is_no_checkpoint(text):
    with pytest.raises(NotANote):
        read_head(text)


def test_a_signed_checkpoint_is_opened_by_who_knows_the_key():
    hand, head = NoteHand(), LogHead(ORIGIN, 7, ROOT)
    note = sign_note(head.text, name=ORIGIN, signers=[hand])
    opened = open_checkpoint(note, keys=[hand.key(ORIGIN)])
    assert (opened.head, opened.keys) == (head, (hand.key(ORIGIN),))
    with pytest.raises(NotSigned):
        open_checkpoint(note, keys=[NoteHand(1).key(ORIGIN)])


@pytest.mark.parametrize(
    ("address", "origin"),
    [
        ("https://records.example", "records.example/log"),
        ("https://records.example/", "records.example/log"),
        ("http://127.0.0.1:8000", "127.0.0.1:8000/log"),
    ],
)
def test_a_log_is_named_after_where_it_is_published(address, origin):
    """C2SP tlog-tiles: the prefix of the log without scheme and last stroke."""
    assert log_origin(address) == origin


def test_a_short_root_is_the_beginning_of_the_whole():
    assert short_root(bytes.fromhex("0123456789abcdef" * 4)) == "0123 4567 89ab cdef"
