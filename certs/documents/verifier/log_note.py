"""Reads checkpoints of the journal and proofs of its entries, and checks who signed them.

Formats: signed note, tlog-checkpoint and tlog-proof@v1 of C2SP.
"""

import base64
import binascii
import hashlib
import re
from collections.abc import Sequence
from typing import NamedTuple

from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.ed25519 import verify_ed25519
from certs.documents.verifier.hash_tree import HASH_SIZE, leaf_of, proves_inclusion

PROOF_FIRST_LINE = "c2sp.org/tlog-proof@v1"
_ED25519_TYPE = b"\x01"
_ID_BYTES = 4
_KEY_LINE = re.compile(r"([^\s+]+)\+([0-9a-f]{8})\+([A-Za-z0-9+/]+=*)")
_SIGNATURE_LINE = re.compile(r"— ([^\s+]+) ([A-Za-z0-9+/]+=*)")
_WHOLE = re.compile(r"0|[1-9][0-9]{0,18}")


class LogKey(NamedTuple):
    """A public key of the journal: its name, the number that tells it apart, its 32 bytes."""

    name: str
    key_id: bytes
    public: bytes


class LogHead(NamedTuple):
    """A checkpoint: how many entries the journal named `origin` has, and their root."""

    origin: str
    size: int
    root: bytes
    text: bytes
    signatures: tuple[tuple[str, bytes], ...]


class EntryProof(NamedTuple):
    """The proof that `entry` stands at a place of the journal with this head; not yet checked."""

    place: int
    path: tuple[bytes, ...]
    head: LogHead
    entry: bytes


def read_log_key(line: str) -> LogKey:
    """Read NAME+ID+KEY. Raises `NotReadableError` unless the ID is that of name and key."""
    match = _KEY_LINE.fullmatch(line.strip())
    if match is None:
        raise NotReadableError("it is not a key of a journal")
    key = _from_base64(match[3])
    if key[:1] != _ED25519_TYPE or len(key) != 1 + HASH_SIZE:
        raise NotReadableError("it is not an Ed25519 key of a journal")
    named = log_key(match[1], key[1:])
    if named.key_id.hex() != match[2]:
        raise NotReadableError("the number of the key is not that of its name and bytes")
    return named


def log_key(name: str, public: bytes) -> LogKey:
    """Name a public key (32 bytes) as the signer of the journal `name`."""
    # C2SP signed-note: SHA-256 of name, line feed, type and key; its first four bytes.
    hashed = name.encode() + b"\n" + _ED25519_TYPE + public
    return LogKey(name, hashlib.sha256(hashed).digest()[:_ID_BYTES], public)


def is_signed_note(text: str, signatures: Sequence[tuple[str, bytes]], key: LogKey) -> bool:
    """Tell whether the key signed this text. Lines of other keys are passed over.

    A line with the name and number of the key that does not fit spoils the whole note.
    """
    mine = [s[_ID_BYTES:] for name, s in signatures if (name, s[:_ID_BYTES]) == key[:2]]
    return bool(mine) and all(
        verify_ed25519(public_key=key.public, message=text.encode(), signature=one) for one in mine
    )


def is_signed_head(head: LogHead, publics: Sequence[bytes]) -> bool:
    """Tell whether one of these public keys, under the journal's own name, signed a checkpoint."""
    keys = [log_key(head.origin, public) for public in publics]
    return any(is_signed_note(head.text.decode(), head.signatures, key) for key in keys)


def read_note(text: str) -> tuple[str, tuple[tuple[str, bytes], ...]]:
    """Part a signed note into its text and its signatures. Raises `NotReadableError`."""
    body, blank, lines = text.rpartition("\n\n")
    if not blank or not lines.endswith("\n"):
        raise NotReadableError("it is not a signed note")
    if any(character < " " and character != "\n" for character in text):
        raise NotReadableError("it holds characters that no note may hold")
    signatures = []
    for line in lines[:-1].split("\n"):
        match = _SIGNATURE_LINE.fullmatch(line)
        if match is None:
            raise NotReadableError("a line of its signatures is not as it must be")
        signatures.append((match[1], _from_base64(match[2])))
    return body + "\n", tuple(signatures)


def read_head(text: str) -> LogHead:
    """Read a checkpoint. Raises `NotReadableError`."""
    body, signatures = read_note(text)
    lines = body[:-1].split("\n")
    if len(lines) != len(("origin", "size", "root")) or not lines[0]:
        raise NotReadableError("a checkpoint has three lines: origin, size, root")
    root = _from_base64(lines[2])
    if len(root) != HASH_SIZE:
        raise NotReadableError("its root is not 32 bytes long")
    return LogHead(lines[0], _whole(lines[1]), root, body.encode(), signatures)


def read_entry_proof(text: str) -> EntryProof:
    """Read a file of proof. Raises `NotReadableError`."""
    first, _, note = text.partition("\n\n")
    lines = first.split("\n")
    if lines.pop(0) != PROOF_FIRST_LINE:
        raise NotReadableError("it is not a proof of an entry")
    if not lines or not lines[0].startswith("extra "):
        raise NotReadableError("it does not hold the entry that it proves")
    entry = _from_base64(lines.pop(0)[len("extra ") :])
    if not lines or not lines[0].startswith("index "):
        raise NotReadableError("it does not say which entry it proves")
    index = _whole(lines.pop(0)[len("index ") :])
    return EntryProof(index, tuple(map(_from_base64, lines)), read_head(note), entry)


def is_proved_entry(proof: EntryProof) -> bool:
    """Tell whether the path leads from the entry in the proof to the root of its checkpoint."""
    return proves_inclusion(
        index=proof.place,
        size=proof.head.size,
        leaf=leaf_of(proof.entry),
        path=proof.path,
        root=proof.head.root,
    )


def _whole(text: str) -> int:
    if not _WHOLE.fullmatch(text):
        raise NotReadableError(f"it holds {text!r} where a whole number must stand")
    return int(text)


def _from_base64(text: str) -> bytes:
    try:
        data = base64.b64decode(text, validate=True)
    except (binascii.Error, ValueError) as problem:
        raise NotReadableError("it holds base64 that cannot be read") from problem
    if base64.b64encode(data).decode() != text:
        raise NotReadableError("it holds base64 that is written in an unusual way")
    return data
