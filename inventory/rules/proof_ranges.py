"""Which stretches of leaves a proof is made of, so that it can be read from stored nodes.

A proof is a list of roots, each over a stretch of leaves; a stretch is made of few complete
subtrees, and those are stored. `merkle` defines the proofs, over a list of all leaves; here the
same ones come from some twice as many nodes as the tree has levels.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce

from inventory.rules.merkle import EMPTY_ROOT, node_hash


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A complete subtree: over leaves index · 2^level to (index + 1) · 2^level."""

    level: int
    index: int


@dataclass(frozen=True, slots=True)
class Stretch:
    """Leaves `first` to `end`, `end` not included, as one subtree of a hash tree."""

    first: int
    end: int

    @property
    def places(self) -> tuple[Place, ...]:
        """Name the complete subtrees it is made of, from left to right, the largest first."""
        found, at = [], self.first
        while at < self.end:
            level = (self.end - at).bit_length() - 1
            found.append(Place(level, at >> level))
            at += 1 << level
        return tuple(found)


def inclusion_stretches(*, index: int, size: int) -> list[Stretch]:
    """Name what the path of leaf `index` in a tree of `size` is made of, lowest first.

    RFC 9162, 2.1.3.1. Raises `IndexError` when the tree has no such leaf.
    """
    if not 0 <= index < size:
        message = f"no leaf {index} in a tree of {size}"
        raise IndexError(message)
    first, end, down = 0, size, []
    while end - first > 1:
        middle = _middle(first, end)
        if index < middle:
            down.append(Stretch(middle, end))
            end = middle
        else:
            down.append(Stretch(first, middle))
            first = middle
    return down[::-1]


def consistency_stretches(*, old_size: int, new_size: int) -> list[Stretch]:
    """Name what the proof is made of that the first `old_size` leaves are a prefix, lowest first.

    RFC 9162, 2.1.4.1. Raises `IndexError` unless 1 <= `old_size` <= `new_size`.
    """
    if not 1 <= old_size <= new_size:
        message = f"no tree of {old_size} leaves inside a tree of {new_size}"
        raise IndexError(message)
    first, end, down = 0, new_size, []
    while end > old_size:
        middle = _middle(first, end)
        if old_size <= middle:
            down.append(Stretch(middle, end))
            end = middle
        else:
            down.append(Stretch(first, middle))
            first = middle
    # What is left ends with the old tree. Where it is the whole old tree, its root is known.
    return [Stretch(first, end), *down[::-1]] if first else down[::-1]


def stretch_root(stretch: Stretch, hashes: Mapping[Place, bytes]) -> bytes:
    """Return the root over a stretch from the hashes of its places; of none, the empty root.

    Raises `KeyError` where the hash of a place is missing.
    """
    found = [hashes[place] for place in stretch.places]
    if not found:
        return EMPTY_ROOT
    return reduce(lambda right, left: node_hash(left, right), reversed(found))


def places_of(stretches: Sequence[Stretch]) -> frozenset[Place]:
    """Name all places that the stretches are made of."""
    return frozenset(place for stretch in stretches for place in stretch.places)


def _middle(first: int, end: int) -> int:
    """Say where the tree over `first` to `end` is split: at the largest power of two below."""
    return first + (1 << (end - first - 1).bit_length() - 1)
