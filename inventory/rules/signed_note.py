"""Signed notes of C2SP, version 1: a text, an empty line, and who signed it with Ed25519.

This file makes, reads and checks notes. What the text says is read elsewhere, and whose keys are
trusted is told by whoever checks. Source: C2SP signed-note v1.0.0, read.
"""

import hashlib
from base64 import b64decode, b64encode
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Protocol

from inventory.rules.ed25519 import PUBLIC_KEY_BYTES, is_signed

# A reader must take at least 16; a note of many times that is no note of ours.
MOST_SIGNATURES: Final = 64
_ED25519: Final = b"\x01"
_KEY_ID_BYTES: Final = 4
_DASH: Final = "— "
_KEY_TEXT_PARTS: Final = 3


class NotANote(ValueError):  # noqa: N818 -- said of the text, as `Refusal` is
    """The text is no signed note."""


class NotSigned(ValueError):  # noqa: N818 -- the same
    """No known key signed the note, or a signature of a known key does not hold."""


class NoteSigner(Protocol):
    """What signs a note: an Ed25519 key."""

    @property
    def public_key_bytes(self) -> bytes:
        """Give the 32 bytes of the public key."""

    def sign(self, data: bytes) -> bytes:
        """Give the 64 bytes of a signature."""


@dataclass(frozen=True, slots=True)
class NoteKey:
    """A known key: the name it signs under, and the 32 bytes of its public half."""

    name: str
    public_key: bytes

    @property
    def key_id(self) -> bytes:
        """Give the first four bytes of SHA-256(name, newline, 0x01, public key)."""
        hashed = self.name.encode() + b"\n" + _ED25519 + self.public_key
        return hashlib.sha256(hashed).digest()[:_KEY_ID_BYTES]

    def __str__(self) -> str:
        """Give the key as checkers of notes take it: name+id+key."""
        encoded = b64encode(_ED25519 + self.public_key).decode()
        return f"{self.name}+{self.key_id.hex()}+{encoded}"


@dataclass(frozen=True, slots=True)
class NoteSignature:
    """One signature line: the name and the id of a key, and what it signed, if it is that key."""

    name: str
    key_id: bytes
    signature: bytes


@dataclass(frozen=True, slots=True)
class SignedNote:
    """A note as read: its text, with the newline at its end, and its signatures, unchecked."""

    text: str
    signatures: tuple[NoteSignature, ...]


def read_note_key(text: str) -> NoteKey:
    """Read a key as `str(NoteKey)` writes it.

    Raises:
        NotANote: no such key, another kind of key, or an id that is not of this name and key.
    """
    name, key_id, encoded = [*text.split("+", 2), "", ""][:_KEY_TEXT_PARTS]
    raw = _decoded(encoded)
    key = NoteKey(name, raw[1:])
    is_ed25519 = raw[:1] == _ED25519 and len(raw) == 1 + PUBLIC_KEY_BYTES
    if not _is_name(name) or not is_ed25519 or key.key_id.hex() != key_id:
        message = "this is no Ed25519 key of a signed note"
        raise NotANote(message)
    return key


def sign_note(text: str, *, name: str, signers: Sequence[NoteSigner]) -> str:
    """Make the note over `text`, signed under `name` by each signer, in their order.

    Raises:
        NotANote: the text or the name may not stand in a note, or nobody signs.
    """
    if not _is_text(text) or not _is_name(name) or not signers:
        message = "a note has a text of whole lines, a name without spaces, and a signer"
        raise NotANote(message)
    lines = [text, "\n"]
    for signer in signers:
        key = NoteKey(name, signer.public_key_bytes)
        signed = b64encode(key.key_id + signer.sign(text.encode())).decode()
        lines.append(f"{_DASH}{name} {signed}\n")
    return "".join(lines)


def read_note(note: str) -> SignedNote:
    """Read a note, without checking who signed it.

    Raises:
        NotANote: it is no note.
    """
    text, parted, tail = note.rpartition("\n\n")
    lines = tail.split("\n")
    is_whole = parted and _is_text(text + "\n") and _is_text(tail)
    if not is_whole or len(lines) - 1 > MOST_SIGNATURES:
        message = "this is no signed note"
        raise NotANote(message)
    return SignedNote(text + "\n", tuple(_signature(line) for line in lines[:-1]))


def open_note(note: str, *, keys: Iterable[NoteKey]) -> tuple[str, tuple[NoteKey, ...]]:
    """Check a note and return its text with the known keys that signed it, in their order in it.

    Signatures of other keys are passed over: a witness may have added its own.

    Raises:
        NotANote: it is no note.
        NotSigned: no known key signed it, or a signature under a known key does not hold.
    """
    read = read_note(note)
    known = {(key.name, key.key_id): key for key in keys}
    signed = []
    for line in read.signatures:
        key = known.get((line.name, line.key_id))
        if key is None:
            continue
        data = read.text.encode()
        if not is_signed(public_key=key.public_key, signature=line.signature, data=data):
            message = f"the signature of {line.name} does not hold"
            raise NotSigned(message)
        signed.append(key)
    if not signed:
        message = "no known key signed this note"
        raise NotSigned(message)
    return read.text, tuple(dict.fromkeys(signed))


def _signature(line: str) -> NoteSignature:
    dash, (name, _, encoded) = line[: len(_DASH)], line[len(_DASH) :].partition(" ")
    raw = _decoded(encoded)
    if dash != _DASH or not _is_name(name) or len(raw) <= _KEY_ID_BYTES:
        message = "a line below the note is no signature"
        raise NotANote(message)
    return NoteSignature(name, raw[:_KEY_ID_BYTES], raw[_KEY_ID_BYTES:])


def _is_text(text: str) -> bool:
    """Tell whether a text is whole lines of UTF-8 without control characters."""
    has_control = any(character < " " and character != "\n" for character in text)
    is_utf8 = not any("\ud800" <= character <= "\udfff" for character in text)
    return text.endswith("\n") and not has_control and is_utf8


def _is_name(name: str) -> bool:
    has_space = any(character.isspace() or character < " " for character in name)
    return bool(name) and "+" not in name and not has_space


def _decoded(encoded: str) -> bytes:
    """Decode base64 as it must be written, nothing where it is not: one text for one value."""
    try:
        raw = b64decode(encoded, validate=True)
    except ValueError:
        return b""
    return raw if b64encode(raw).decode() == encoded else b""
