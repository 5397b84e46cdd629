"""Reads what the journal answers over the API of the house: checkpoint, entry, two kinds of proof.

Hashes are hexadecimal there; base64, as C2SP writes them, is read as well. What an answer says of
itself is held against what it carries, and proves nothing yet.
"""

import base64
import binascii
from collections.abc import Mapping
from typing import Any, NamedTuple

from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.hash_tree import HASH_SIZE, leaf_of
from certs.documents.verifier.json_form import read_json
from certs.documents.verifier.log_note import LogHead, read_head

HEAD_NAMES = frozenset({"origin", "size", "root", "note"})
ENTRY_NAMES = frozenset({"number", "act", "subject", "canonical", "leaf_hash"})
INCLUSION_NAMES = frozenset({"number", "size", "leaf_hash", "path", "root"})
GROWTH_NAMES = frozenset({"old_size", "new_size", "old_root", "new_root", "path"})
# As a bundle carries it: the roots are those of the checkpoints beside it.
BARE_GROWTH_NAMES = frozenset({"from", "to", "path"})


class Inclusion(NamedTuple):
    """The proof that the entry with hash `leaf` is number `number` of the first `size`."""

    number: int
    size: int
    leaf: bytes
    path: tuple[bytes, ...]
    root: bytes


class Growth(NamedTuple):
    """The proof that the journal of one size is the beginning of that of another."""

    old_size: int
    new_size: int
    path: tuple[bytes, ...]
    # Old and new, where the proof says them itself.
    roots: tuple[bytes, bytes] | None


def read_answered_head(document: Mapping[str, Any]) -> LogHead:
    """Read the checkpoint in an answer. Raises `NotReadableError`."""
    head = read_head(str(document["note"]))
    told = (document["origin"], document["size"], document["root"])
    if told != (head.origin, head.size, head.root.hex()):
        raise NotReadableError("it says otherwise than the signed note in it")
    return head


def read_answered_entry(document: Mapping[str, Any]) -> bytes:
    """Read the text of an entry in an answer. Raises `NotReadableError`."""
    text = str(document["canonical"]).encode("utf-8", "replace")
    if leaf_of(text).hex() != document["leaf_hash"]:
        raise NotReadableError("the text of the entry is not of the hash beside it")
    entry = read_json(text)
    names = ("number", "act", "subject")
    if not isinstance(entry, dict) or any(entry.get(n) != document[n] for n in names):
        raise NotReadableError("it says otherwise than the text of the entry in it")
    return text


def read_inclusion(document: Mapping[str, Any]) -> Inclusion:
    """Read the proof of an entry. Raises `NotReadableError`."""
    return Inclusion(
        number=_count(document["number"]),
        size=_count(document["size"]),
        leaf=_node(document["leaf_hash"]),
        path=_nodes(document["path"]),
        root=_node(document["root"]),
    )


def read_growth(document: Mapping[str, Any]) -> Growth:
    """Read a proof of consistency, with its roots or without. Raises `NotReadableError`."""
    if document.keys() >= GROWTH_NAMES:
        sizes = _count(document["old_size"]), _count(document["new_size"])
        roots = (_node(document["old_root"]), _node(document["new_root"]))
        return Growth(*sizes, _nodes(document["path"]), roots)
    return Growth(
        _count(document["from"]), _count(document["to"]), _nodes(document["path"]), roots=None
    )


def _nodes(values: object) -> tuple[bytes, ...]:
    if not isinstance(values, list):
        raise NotReadableError("its path is no list of hashes")
    return tuple(_node(value) for value in values)


def _node(value: object) -> bytes:
    text = str(value)
    try:
        is_hex = len(text) == 2 * HASH_SIZE
        node = bytes.fromhex(text) if is_hex else base64.b64decode(text, validate=True)
    except (binascii.Error, ValueError) as problem:
        raise NotReadableError("it holds a hash that cannot be read") from problem
    if len(node) != HASH_SIZE:
        raise NotReadableError("it holds a hash that is not 32 bytes long")
    return node


def _count(value: object) -> int:
    if not isinstance(value, int) or isinstance(value, bool) or value < 0:
        raise NotReadableError(f"it holds {value!r} where a whole number must stand")
    return value
