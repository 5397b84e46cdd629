"""Proofs about the journal, read from the stored nodes of its hash tree: a few rows each.

What a proof is made of is decided in the rules; whether a checkpoint was signed, by services.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import reduce
from operator import or_

from django.db.models import Q

from inventory.models import JournalEntry, JournalHead, MerkleNode
from inventory.rules.merkle import EMPTY_ROOT
from inventory.rules.proof_ranges import (
    Place,
    Stretch,
    consistency_stretches,
    inclusion_stretches,
    places_of,
    stretch_root,
)
from inventory.rules.refusal import Refusal


class NoSuchProof(Refusal):
    """The journal has no such entry, or never had this size."""


class BrokenTree(Refusal):
    """A stored hash is missing, so that the journal can prove nothing."""


@dataclass(frozen=True, slots=True)
class InclusionProof:
    """That entry `number` is in the journal of `size` entries with this root. Hashes are bytes."""

    number: int
    size: int
    leaf: bytes
    path: tuple[bytes, ...]
    root: bytes


@dataclass(frozen=True, slots=True)
class ConsistencyProof:
    """That the journal of `old_size` entries is the beginning of that of `new_size`."""

    old_size: int
    new_size: int
    old_root: bytes
    new_root: bytes
    path: tuple[bytes, ...]


def journal_size() -> int:
    """Return how many entries the journal has."""
    return JournalHead.objects.filter(id=1).values_list("size", flat=True).first() or 0


def root_at(size: int) -> bytes:
    """Return the root that the journal had at a size, 32 bytes.

    Raises:
        NoSuchProof: it has not grown to that size yet.
    """
    _check_size(size, field="size")
    whole = Stretch(0, size)
    return stretch_root(whole, _hashes(whole.places)) if size else EMPTY_ROOT


def inclusion_proof(*, number: int, size: int) -> InclusionProof:
    """Prove that entry `number` is in the journal of `size` entries (RFC 9162, 2.1.3.1).

    Raises:
        NoSuchProof: the journal never had that size, or not that entry then.
    """
    _check_size(size, field="size")
    if not 0 <= number < size:
        message = f"A journal of {size} entries has no entry {number}: they count from 0."
        raise NoSuchProof(message, field="size")
    stretches = inclusion_stretches(index=number, size=size)
    whole, leaf = Stretch(0, size), Place(0, number)
    hashes = _hashes({leaf, *places_of([*stretches, whole])})
    return InclusionProof(
        number=number,
        size=size,
        leaf=hashes[leaf],
        path=tuple(stretch_root(stretch, hashes) for stretch in stretches),
        root=stretch_root(whole, hashes),
    )


def consistency_proof(*, old_size: int, new_size: int) -> ConsistencyProof:
    """Prove that the journal only grew from one size to another (RFC 9162, 2.1.4.1).

    Raises:
        NoSuchProof: the journal never had one of the sizes, or they stand the wrong way round.
    """
    _check_size(new_size, field="to")
    if not 1 <= old_size <= new_size:
        message = "A proof goes from a size of at least 1 to the same or a larger one."
        raise NoSuchProof(message, field="from")
    stretches = consistency_stretches(old_size=old_size, new_size=new_size)
    old, new = Stretch(0, old_size), Stretch(0, new_size)
    hashes = _hashes(places_of([*stretches, old, new]))
    return ConsistencyProof(
        old_size=old_size,
        new_size=new_size,
        old_root=stretch_root(old, hashes),
        new_root=stretch_root(new, hashes),
        path=tuple(stretch_root(stretch, hashes) for stretch in stretches),
    )


def _check_size(size: int, *, field: str) -> None:
    has = journal_size()
    if not 0 <= size <= has:
        message = f"The journal has {has} entries, so nothing is proved of {size}."
        raise NoSuchProof(message, field=field)


def _hashes(places: Iterable[Place]) -> dict[Place, bytes]:
    """Read the stored hashes of these places: leaves from the entries, the others from nodes.

    One query for each, however many.

    Raises:
        BrokenTree: the row of a place is gone, which guards refuse and the audit finds.
    """
    places = set(places)
    leaves = [place.index for place in places if place.level == 0]
    above = [Q(level=place.level, index=place.index) for place in places if place.level]
    found = {}
    if leaves:
        entries = JournalEntry.objects.filter(number__in=leaves)
        for number, told in entries.values_list("number", "leaf_hash"):
            found[Place(0, number)] = bytes.fromhex(told)
    if above:
        nodes = MerkleNode.objects.filter(reduce(or_, above))
        for level, index, told in nodes.values_list("level", "index", "hash"):
            found[Place(level, index)] = bytes.fromhex(told)
    if found.keys() != places:
        message = "The journal lacks a stored hash, so nothing can be proved. Run manage.py audit."
        raise BrokenTree(message)
    return found
