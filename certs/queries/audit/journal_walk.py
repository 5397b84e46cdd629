"""Walks through the journal from its first entry to its head and recomputes all that binds it.

Hashes, chain, tree and head are made anew from the entries alone; what an entry says of rows is
kept aside for later. A single entry is judged in `entries`, a checkpoint in `checkpoints`.
"""

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import islice

from certs.queries.audit.checkpoints import Checkpoints
from certs.queries.audit.entries import COLUMNS, Actors, EntryRow, Told, faults_of, read_told
from certs.queries.audit.nodes import Nodes
from certs.queries.audit.scratch import Bound, Scratch
from certs.rules.disagreement import Disagreement, What
from certs.rules.roles import ClaimAct
from inventory.models import JournalEntry, JournalHead
from inventory.rules.merkle import EMPTY_ROOT, chain_hash, leaf_hash
from inventory.rules.tree_growth import Grown, grow

CHUNK = 2000
# Acts that overlap are dated when they began; no act takes so long.
LATEST_START = timedelta(hours=1)
# What is needed again: how a certificate was issued, ended or thrown away.
_REMEMBERED = frozenset(
    {ClaimAct.ISSUE_CERTIFICATE.value, ClaimAct.WITHDRAW_CERTIFICATE.value, "discard_draft"}
)


@dataclass(slots=True)
class JournalWalk:
    """How far the walk has come. Run `walk` to its end before anything else is asked."""

    scratch: Scratch
    people: Actors
    checkpoints: Checkpoints
    nodes: Nodes
    tell: Callable[[str], None]
    number: int = 0
    tree: Grown = field(default_factory=lambda: Grown(0, (), ()))
    chain: bytes = EMPTY_ROOT
    latest: datetime | None = None

    def walk(self) -> Iterator[Disagreement]:
        """Read every entry once and yield what does not agree."""
        rows = JournalEntry.objects.order_by("number").values_list(*COLUMNS)
        entries = iter(rows.iterator(chunk_size=CHUNK))
        yield from self.checkpoints.at(self.tree)
        while chunk := [EntryRow(*row) for row in islice(entries, CHUNK)]:
            bound: list[Bound] = []
            said: list[tuple[str, str, int, str]] = []
            for entry in chunk:
                told = read_told(entry)
                yield from self._entry(entry, told)
                bound += told.bound(entry)
                if entry.act in _REMEMBERED:
                    said.append((entry.act, entry.subject, entry.number, _text(told)))
            self.scratch.bind(bound)
            self.scratch.say(said)
            yield from self.nodes.compare()
            self.tell(f"{self.tree.size} journal entries")
        yield from self._head()
        yield from self.nodes.beyond(self.tree.size)
        yield from self.checkpoints.beyond(self.tree.size)

    def _entry(self, entry: EntryRow, told: Told) -> Iterator[Disagreement]:
        if entry.number != self.number:
            expected = f"entry {self.number}"
            yield Disagreement(What.NUMBERING, entry.where, expected, f"entry {entry.number}")
        self.number = entry.number + 1
        yield from faults_of(entry, told, self.people)
        yield from self._order(entry)
        leaf = leaf_hash(entry.canonical.encode())
        chained = chain_hash(self.chain, leaf).hex()
        if chained != entry.chain_hash:
            yield Disagreement(What.CHAIN, entry.where, chained, entry.chain_hash)
        # Go on from what is written, so that one break is told once.
        self.chain = _bytes_of(entry.chain_hash, chained)
        self.tree = grow(size=self.tree.size, peaks=self.tree.peaks, leaf=leaf)
        self.nodes.computed(self.tree.nodes)
        yield from self.checkpoints.at(self.tree)

    def _order(self, entry: EntryRow) -> Iterator[Disagreement]:
        if self.latest is not None and entry.at < self.latest - LATEST_START:
            expected = f"not long before {self.latest.isoformat()}"
            yield Disagreement(What.BACKDATED, entry.where, expected, entry.at.isoformat())
        self.latest = entry.at if self.latest is None else max(self.latest, entry.at)

    def _head(self) -> Iterator[Disagreement]:
        head = JournalHead.objects.filter(id=1).first()
        if head is None:
            if self.tree.size:
                yield Disagreement(What.HEAD, "head of the journal", "one head", "none")
            return
        expected = {
            "size": self.tree.size,
            "chain hash": self.chain.hex(),
            "peaks": [peak.hex() for peak in self.tree.peaks],
        }
        found = {"size": head.size, "chain hash": head.chain_hash, "peaks": head.peaks}
        for name, value in expected.items():
            if found[name] != value:
                where = f"head of the journal, {name}"
                yield Disagreement(What.HEAD, where, str(value), str(found[name]))


def _text(told: Told) -> str:
    return json.dumps(dict(told.detail))


def _bytes_of(written: str, computed: str) -> bytes:
    try:
        found = bytes.fromhex(written)
    except ValueError:
        found = b""
    return found if len(found) == len(EMPTY_ROOT) else bytes.fromhex(computed)
