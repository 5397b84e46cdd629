"""Holds one journal entry against itself: its columns, its text, who acted, what it binds."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, NamedTuple

from certs.queries.audit.acts import WRITES
from certs.queries.audit.scratch import Bound
from certs.rules.disagreement import Disagreement, What
from inventory.models import Person
from inventory.rules.canonical import canonical_text, sha256_hex
from inventory.rules.merkle import leaf_hash

# A primary key has 64 bits, one of them for the sign.
_LARGEST_KEY = 2**63 - 1
_KEY_DIGITS = len(str(_LARGEST_KEY))
COLUMNS = ("number", "at", "act", "subject", "by_id", "canonical", "leaf_hash", "chain_hash")


class EntryRow(NamedTuple):
    """The columns of an entry, in the order of `COLUMNS`."""

    number: int
    at: datetime
    act: str
    subject: str
    by_id: int
    canonical: str
    leaf_hash: str
    chain_hash: str

    @property
    def where(self) -> str:
        """Name the entry."""
        return f"journal entry {self.number}"


@dataclass(frozen=True, slots=True)
class Actors:
    """How entries name people: hash by primary key; people whose salt was forgotten have none."""

    hashes: Mapping[int, str]
    salts: Mapping[int, str]


@dataclass(frozen=True, slots=True)
class Told:
    """What an entry's text says; nothing of it where the text cannot be read."""

    fields: Mapping[str, Any]

    @property
    def labels(self) -> frozenset[str]:
        """The models of which it binds a row."""
        return frozenset(label for label, keys in self._part("rows").items() if keys)

    @property
    def detail(self) -> Mapping[str, Any]:
        """What was done."""
        detail = self.fields.get("detail")
        return detail if isinstance(detail, dict) else {}

    def bound(self, entry: EntryRow) -> Iterator[Bound]:
        """Give what it says of rows; a key that names no row is passed over."""
        rows, named = self._part("rows"), self._part("named")
        for label, digests in rows.items():
            names = named.get(label, {})
            for pk, digest in digests.items():
                if _is_key(pk) and _is_digest(digest):
                    name = names.get(pk)
                    told = name if _is_digest(name) else "no hash"
                    yield Bound(label, int(pk), digest, told, entry.by_id, entry.number)

    def _part(self, name: str) -> dict[str, dict[str, str]]:
        """Give what binds rows, by model and key; what has another shape binds nothing."""
        part = self.detail.get(name)
        found = part.items() if isinstance(part, dict) else ()
        return {name: keys for name, keys in found if name.isascii() and isinstance(keys, dict)}


def _is_key(text: str) -> bool:
    """Tell whether it can be a primary key, whatever an altered entry says."""
    return text.isdecimal() and len(text) <= _KEY_DIGITS and int(text) <= _LARGEST_KEY


def _is_digest(value: object) -> bool:
    """Tell whether it is text, or nothing: what an altered entry may say else is kept nowhere."""
    return value is None or (isinstance(value, str) and value.isascii())


def actors() -> Actors:
    """Read everyone who may have acted; they are few."""
    people = list(Person.objects.exclude(journal_salt="").order_by("pk"))
    hashes = {person.pk: _hash_of(person) for person in people}
    return Actors(hashes, {person.pk: person.journal_salt for person in people})


def read_told(entry: EntryRow) -> Told:
    """Read the text of an entry."""
    try:
        found = json.loads(entry.canonical)
    except (ValueError, RecursionError):
        found = None
    return Told(found if isinstance(found, dict) else {})


def faults_of(entry: EntryRow, told: Told, people: Actors) -> Iterator[Disagreement]:
    """Compare the columns of an entry with its text, and its text with its hash."""
    if not _is_canonical(entry.canonical, told.fields):
        yield Disagreement(What.ENTRY, entry.where, "canonical JSON (RFC 8785)", "another text")
    leaf = leaf_hash(entry.canonical.encode()).hex()
    if leaf != entry.leaf_hash:
        yield Disagreement(What.ENTRY, f"{entry.where}, leaf hash", leaf, entry.leaf_hash)
    expected: dict[str, Any] = {
        "number": entry.number,
        "at": entry.at.astimezone(UTC).isoformat(timespec="milliseconds"),
        "act": entry.act,
        "subject": entry.subject,
        "by": people.hashes.get(entry.by_id, told.fields.get("by")),
    }
    for name, column in expected.items():
        said = told.fields.get(name)
        if said != column:
            what = What.NUMBERING if name == "number" else What.ENTRY
            yield Disagreement(what, f"{entry.where}, {name}", str(said), str(column))
    yield from _faults_of_act(entry, told)


def _hash_of(person: Person) -> str:
    """Name a person as the journal does (`inventory.services.journal`), written out anew."""
    return sha256_hex(f"{person.journal_salt}:{person.username}".encode())


def _is_canonical(text: str, fields: Mapping[str, Any]) -> bool:
    # The quick way agrees with RFC 8785 wherever no name lies beyond the basic plane.
    quick = json.dumps(fields, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    if quick == text:
        return True
    try:
        return canonical_text(fields) == text
    except (TypeError, ValueError):
        return False


def _faults_of_act(entry: EntryRow, told: Told) -> Iterator[Disagreement]:
    if entry.act not in WRITES:
        yield Disagreement(What.ACT, entry.where, "an act of this program", entry.act)
        return
    labels = told.labels
    for label in (model._meta.label for model in WRITES[entry.act]):
        if label not in labels:
            where = f"{entry.where}, {entry.act} {entry.subject}"
            yield Disagreement(What.ACT, where, f"a row of {label}", "none")
