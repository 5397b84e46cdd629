"""Holds signed checkpoints against the journal: those on record, and one that was kept outside.

Only a checkpoint that nobody here could change tells a journal that was written anew from its
first entry; that is why one is worth keeping elsewhere, with the key.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from certs.rules.disagreement import Disagreement, What
from inventory.models import Checkpoint
from inventory.queries.checkpoints import log_keys
from inventory.rules.checkpoint import LogHead, open_checkpoint
from inventory.rules.signed_note import NotANote, NoteKey, NotSigned
from inventory.rules.tree_growth import Grown, root_of_peaks

CHUNK = 500


@dataclass(frozen=True, slots=True)
class KeptNote:
    """A checkpoint from outside, and the keys it may be signed with; none: those on record."""

    where: str
    note: str
    keys: tuple[NoteKey, ...] = ()


class Checkpoints:
    """The checkpoints that the walk has not reached yet, the smallest first."""

    def __init__(self, kept: Sequence[KeptNote] = ()) -> None:
        """Take those on record and those from outside."""
        self._faults: list[Disagreement] = []
        self._keys: dict[str, tuple[NoteKey, ...]] = {}
        self._kept = sorted(self._opened(kept), key=lambda one: one[1].size)
        self._rows = Checkpoint.objects.order_by("size").iterator(chunk_size=CHUNK)
        self._next = next(self._rows, None)

    def at(self, tree: Grown) -> Iterator[Disagreement]:
        """Compare every checkpoint of this size with the tree that the entries make."""
        while self._next is not None and self._next.size <= tree.size:
            yield from self._judge(self._next, tree)
            self._next = next(self._rows, None)
        while self._kept and self._kept[0][1].size <= tree.size:
            where, head = self._kept.pop(0)
            yield from _compare(where, head, tree)

    def beyond(self, size: int) -> Iterator[Disagreement]:
        """Name every checkpoint that counts more entries than there are."""
        yield from self._faults
        while self._next is not None:
            head, faults = self._open(_where(self._next), self._next.note, ())
            yield from faults
            yield _cut_short(_where(self._next), head.size if head else self._next.size, size)
            self._next = next(self._rows, None)
        for where, head in self._kept:
            yield _cut_short(where, head.size, size)

    def _opened(self, kept: Sequence[KeptNote]) -> Iterator[tuple[str, LogHead]]:
        for one in kept:
            head, faults = self._open(one.where, one.note, one.keys)
            self._faults += faults
            if head is not None:
                yield one.where, head

    def _judge(self, row: Checkpoint, tree: Grown) -> Iterator[Disagreement]:
        where = _where(row)
        head, faults = self._open(where, row.note, ())
        yield from faults
        if head is None:
            return
        if (row.size, row.root) != (head.size, head.root.hex()):
            said = f"size {head.size}, root {head.root.hex()}"
            yield Disagreement(What.CHECKPOINT, where, said, f"size {row.size}, root {row.root}")
        yield from _compare(where, head, tree)

    def _open(
        self, where: str, note: str, keys: tuple[NoteKey, ...]
    ) -> tuple[LogHead | None, list[Disagreement]]:
        """Check a note; where no keys are given, by those on record under the origin it names."""
        try:
            opened = open_checkpoint(note, keys=keys or self._known(note.partition("\n")[0]))
        except (NotANote, NotSigned) as error:
            wanted = "a checkpoint signed with a known key"
            return None, [Disagreement(What.CHECKPOINT, where, wanted, str(error))]
        return opened.head, []

    def _known(self, origin: str) -> tuple[NoteKey, ...]:
        if origin not in self._keys:
            try:
                self._keys[origin] = log_keys(origin)
            except ValueError:
                # A key that is not what was put on record any more is told as a changed row.
                self._keys[origin] = ()
        return self._keys[origin]


def _compare(where: str, head: LogHead, tree: Grown) -> Iterator[Disagreement]:
    root = root_of_peaks(size=tree.size, peaks=tree.peaks)
    if head.size == tree.size and head.root != root:
        yield Disagreement(What.CHECKPOINT, f"{where}, root", head.root.hex(), root.hex())


def _cut_short(where: str, counted: int, size: int) -> Disagreement:
    return Disagreement(What.CUT_SHORT, where, f"{counted} entries", f"{size} entries")


def _where(row: Checkpoint) -> str:
    return f"checkpoint of {row.size} entries"
