"""How the hash tree of the journal grows by one leaf, from the few hashes that it needs for that.

A tree is held as its peaks: the roots of the complete subtrees that its leaves make, the largest
first, one for each bit of its size. This file says which subtrees a new leaf completes and what
the root is then; `merkle` defines tree and hashes, and services store what is completed.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.rules.merkle import EMPTY_ROOT, node_hash


@dataclass(frozen=True, slots=True)
class Node:
    """The root of the complete subtree over leaves index · 2^level to (index + 1) · 2^level."""

    level: int
    index: int
    hash: bytes


@dataclass(frozen=True, slots=True)
class Grown:
    """A tree after a leaf: its size, its peaks, and the subtrees the leaf completed, low to high.

    The leaf itself is not among the nodes.
    """

    size: int
    peaks: tuple[bytes, ...]
    nodes: tuple[Node, ...]


def grow(*, size: int, peaks: Sequence[bytes], leaf: bytes) -> Grown:
    """Add leaf hash `leaf` to the tree of `size` leaves with these peaks.

    Raises `ValueError` unless there is one peak for each bit of the size.
    """
    _check_peaks(size, peaks)
    standing, nodes = list(peaks), []
    reached, level, index = leaf, 0, size
    # Every low bit that is set is a complete subtree waiting for its right neighbour: this leaf.
    while index & 1:
        reached = node_hash(standing.pop(), reached)
        level, index = level + 1, index >> 1
        nodes.append(Node(level, index, reached))
    return Grown(size + 1, (*standing, reached), tuple(nodes))


def root_of_peaks(*, size: int, peaks: Sequence[bytes]) -> bytes:
    """Return the root of the tree of `size` leaves with these peaks (RFC 9162, 2.1.1).

    Raises `ValueError` unless there is one peak for each bit of the size.
    """
    _check_peaks(size, peaks)
    if not peaks:
        return EMPTY_ROOT
    *larger, reached = peaks
    for peak in reversed(larger):
        reached = node_hash(peak, reached)
    return reached


def _check_peaks(size: int, peaks: Sequence[bytes]) -> None:
    if len(peaks) != size.bit_count():
        message = f"a tree of {size} leaves has {size.bit_count()} peaks, not {len(peaks)}"
        raise ValueError(message)
