"""Checkpoints of C2SP: what a signed note says of a log: whose it is, its size, and its root.

Ours have no extension lines, and one that has any is refused: nobody could audit them.
Source: C2SP tlog-checkpoint v1.0.0, read.
"""

import re
from base64 import b64decode, b64encode
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from inventory.rules.merkle import HASH_BYTES
from inventory.rules.signed_note import NotANote, NoteKey, open_note

_SHORT_DIGITS: Final = 16
_GROUP: Final = 4
_BODY: Final = re.compile(r"([^\n]+)\n(0|[1-9][0-9]{0,18})\n([A-Za-z0-9+/]{43}=)\n")


@dataclass(frozen=True, slots=True)
class LogHead:
    """The tree of a log: `origin` says which log, `size` counts entries, `root` is 32 bytes."""

    origin: str
    size: int
    root: bytes

    @property
    def text(self) -> str:
        """Give the text of the note."""
        return f"{self.origin}\n{self.size}\n{b64encode(self.root).decode()}\n"


@dataclass(frozen=True, slots=True)
class OpenedCheckpoint:
    """A checkpoint that known keys signed: what it says, and the keys in their order in it."""

    head: LogHead
    keys: tuple[NoteKey, ...]


def log_origin(public_origin: str) -> str:
    """Name the log after where it is published: the address without its scheme."""
    return f"{public_origin.partition('://')[2].rstrip('/')}/log"


def read_head(text: str) -> LogHead:
    """Read the text of a checkpoint's note.

    Raises:
        NotANote: it is not three lines, or not an origin, a size and a root of 32 bytes.
    """
    found = _BODY.fullmatch(text)
    root = b64decode(found[3]) if found else b""
    if not found or len(root) != HASH_BYTES or b64encode(root).decode() != found[3]:
        message = "this is no checkpoint of a log"
        raise NotANote(message)
    return LogHead(found[1], int(found[2]), root)


def open_checkpoint(note: str, *, keys: Iterable[NoteKey]) -> OpenedCheckpoint:
    """Check a checkpoint and return what it says.

    Raises:
        NotANote: it is no checkpoint.
        NotSigned: no known key signed it, or a signature under a known key does not hold.
    """
    text, signed = open_note(note, keys=keys)
    return OpenedCheckpoint(read_head(text), signed)


def short_root(root: bytes) -> str:
    """Give the first 16 digits of a root in groups, for comparing by eye and for nothing else.

    Two logs of like short roots could be made on purpose; the whole root is what proves.
    """
    digits = root.hex()[:_SHORT_DIGITS]
    return " ".join(digits[at : at + _GROUP] for at in range(0, _SHORT_DIGITS, _GROUP))
