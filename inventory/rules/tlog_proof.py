"""Proofs of C2SP that travel as a file: that an entry is in a log, with the checkpoint it is in.

The entry itself goes along as extra data; it counts only because it hashes to the leaf that is
proved. Source: C2SP tlog-proof@v1, read in its editor's copy of 2026.
"""

import re
from base64 import b64decode, b64encode
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from inventory.rules.checkpoint import LogHead, open_checkpoint
from inventory.rules.merkle import HASH_BYTES, leaf_hash, verify_inclusion
from inventory.rules.signed_note import NotANote, NoteKey

FIRST_LINE: Final = "c2sp.org/tlog-proof@v1"
_INDEX: Final = re.compile(r"index (0|[1-9][0-9]{0,18})")
_EXTRA: Final = "extra "
# A path of 64 hashes proves a leaf among 2^64.
_MOST_HASHES: Final = 64


class NotProved(ValueError):  # noqa: N818 -- said of the proof, as `Refusal` is
    """The proof does not lead from this entry to the root of its checkpoint."""


@dataclass(frozen=True, slots=True)
class LogProof:
    """A proof as read: index of the entry, path from its leaf up, checkpoint, extra data.

    Nothing of it is checked yet; `extra` is None where the line is missing.
    """

    index: int
    path: tuple[bytes, ...]
    checkpoint: str
    extra: bytes | None = None

    @property
    def text(self) -> str:
        """Give the content of a `.tlog-proof` file."""
        lines = [FIRST_LINE]
        if self.extra is not None:
            lines.append(_EXTRA + b64encode(self.extra).decode())
        lines.append(f"index {self.index}")
        lines.extend(b64encode(node).decode() for node in self.path)
        return "\n".join([*lines, "", self.checkpoint])


def read_proof(text: str) -> LogProof:
    """Read the content of a `.tlog-proof` file.

    Raises:
        NotANote: it is no such file.
    """
    above, parted, checkpoint = text.partition("\n\n")
    first, *lines = above.split("\n")
    has_extra = bool(lines) and lines[0].startswith(_EXTRA)
    extra = _decoded(lines.pop(0).removeprefix(_EXTRA)) if has_extra else None
    index = _INDEX.fullmatch(lines.pop(0)) if lines else None
    path = tuple(_decoded(line) for line in lines)
    is_path = len(path) <= _MOST_HASHES and all(len(node) == HASH_BYTES for node in path)
    if first != FIRST_LINE or not parted or index is None or not is_path:
        message = "this is no proof of a log"
        raise NotANote(message)
    return LogProof(int(index[1]), path, checkpoint, extra)


def check_proof(proof: LogProof, *, entry: bytes, keys: Iterable[NoteKey]) -> LogHead:
    """Check that `entry` is in the log of the proof's checkpoint; return what that says.

    Raises:
        NotANote: the checkpoint is none.
        NotSigned: no known key signed the checkpoint.
        NotProved: the path does not lead from the entry to the root.
    """
    head = open_checkpoint(proof.checkpoint, keys=keys).head
    is_proved = verify_inclusion(
        index=proof.index,
        size=head.size,
        leaf=leaf_hash(entry),
        path=proof.path,
        root_hash=head.root,
    )
    if not is_proved:
        message = "the path does not lead from this entry to the root of the checkpoint"
        raise NotProved(message)
    return head


def _decoded(encoded: str) -> bytes:
    """Decode base64 as it must be written.

    Raises:
        NotANote: where it is not.
    """
    try:
        raw = b64decode(encoded, validate=True)
    except ValueError:
        raw = b""
    if b64encode(raw).decode() != encoded:
        message = "a line of the proof is no base64"
        raise NotANote(message)
    return raw
