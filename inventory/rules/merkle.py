"""The hash tree of RFC 6962 and RFC 9162 (SHA-256), and the chain that binds the journal.

This file computes roots, proofs and their checks. What an entry holds, and who signs a root,
is decided elsewhere. A check answers yes or no and never raises.
"""

import hashlib
from collections.abc import Sequence
from typing import Final

HASH_BYTES: Final = 32
EMPTY_ROOT: Final = hashlib.sha256(b"").digest()

# RFC 9162, 2.1.1: leaves and nodes are hashed with different first bytes, so that neither can
# pass for the other. The chain is our own addition and takes the next free byte likewise.
_LEAF: Final = b"\x00"
_NODE: Final = b"\x01"
_CHAIN: Final = b"\x02"


def leaf_hash(data: bytes) -> bytes:
    """Return SHA-256(0x00, data)."""
    return hashlib.sha256(_LEAF + data).digest()


def node_hash(left: bytes, right: bytes) -> bytes:
    """Return SHA-256(0x01, left, right)."""
    return hashlib.sha256(_NODE + left + right).digest()


def chain_hash(previous: bytes, leaf: bytes) -> bytes:
    """Return SHA-256(0x02, previous, leaf): the link of one journal entry to all before it.

    `previous` is the link before, `EMPTY_ROOT` for the first entry; `leaf` is a `leaf_hash`.
    Raises `ValueError` unless both are 32 bytes, since other lengths could be cut two ways.
    """
    if len(previous) != HASH_BYTES or len(leaf) != HASH_BYTES:
        message = "a link joins two hashes of 32 bytes"
        raise ValueError(message)
    return hashlib.sha256(_CHAIN + previous + leaf).digest()


def root(leaves: Sequence[bytes]) -> bytes:
    """Return the root of the tree over these leaf hashes (RFC 9162, 2.1.1)."""
    if not leaves:
        return EMPTY_ROOT
    if len(leaves) == 1:
        return leaves[0]
    split = _split(len(leaves))
    return node_hash(root(leaves[:split]), root(leaves[split:]))


def inclusion_path(index: int, leaves: Sequence[bytes]) -> list[bytes]:
    """Return the proof that leaf `index` is in the tree, lowest hash first (RFC 9162, 2.1.3.1).

    Raises `IndexError` when the tree has no such leaf.
    """
    if not 0 <= index < len(leaves):
        message = f"no leaf {index} in a tree of {len(leaves)}"
        raise IndexError(message)
    if len(leaves) == 1:
        return []
    split = _split(len(leaves))
    if index < split:
        return [*inclusion_path(index, leaves[:split]), root(leaves[split:])]
    return [*inclusion_path(index - split, leaves[split:]), root(leaves[:split])]


def consistency_path(old_size: int, leaves: Sequence[bytes]) -> list[bytes]:
    """Return the proof that the first `old_size` leaves are a prefix (RFC 9162, 2.1.4.1).

    Raises `IndexError` unless 1 <= `old_size` <= number of leaves.
    """
    if not 1 <= old_size <= len(leaves):
        message = f"no tree of {old_size} leaves inside a tree of {len(leaves)}"
        raise IndexError(message)
    return _subproof(old_size, leaves, is_whole=True)


def verify_inclusion(
    *, index: int, size: int, leaf: bytes, path: Sequence[bytes], root_hash: bytes
) -> bool:
    """Tell whether the path proves leaf hash `leaf` at `index` of a tree of `size`.

    The steps are those of RFC 9162, 2.1.3.2.
    """
    if not 0 <= index < size or not _are_hashes(leaf, root_hash, *path):
        return False
    first, last, reached = index, size - 1, leaf
    for sibling in path:
        if last == 0:
            return False
        if first & 1 or first == last:
            reached = node_hash(sibling, reached)
            while not first & 1 and first:
                first, last = first >> 1, last >> 1
        else:
            reached = node_hash(reached, sibling)
        first, last = first >> 1, last >> 1
    return last == 0 and reached == root_hash


def verify_consistency(
    *, old_size: int, new_size: int, old_root: bytes, new_root: bytes, path: Sequence[bytes]
) -> bool:
    """Tell whether the path proves that the tree of `old_size` is a prefix of that of `new_size`.

    The steps are those of RFC 9162, 2.1.4.2. From the empty tree nothing can be proved: only
    empty to empty, with the empty root, is accepted.
    """
    if not 0 <= old_size <= new_size or not _are_hashes(old_root, new_root, *path):
        return False
    if old_size == new_size:
        is_possible = old_size > 0 or old_root == EMPTY_ROOT
        return is_possible and not path and old_root == new_root
    if old_size == 0 or not path:
        return False
    # A tree whose size is a power of two is itself the first node; the proof leaves it out.
    nodes = [old_root, *path] if old_size & (old_size - 1) == 0 else list(path)
    reached = _reach(old_size - 1, new_size - 1, nodes)
    return reached == (old_root, new_root)


def _reach(first: int, last: int, nodes: Sequence[bytes]) -> tuple[bytes, bytes] | None:
    """Return the old and the new root that the nodes lead to, None if their number is wrong."""
    while first & 1:
        first, last = first >> 1, last >> 1
    old = new = nodes[0]
    for node in nodes[1:]:
        if last == 0:
            return None
        if first & 1 or first == last:
            old, new = node_hash(node, old), node_hash(node, new)
            while not first & 1 and first:
                first, last = first >> 1, last >> 1
        else:
            new = node_hash(new, node)
        first, last = first >> 1, last >> 1
    return (old, new) if last == 0 else None


def _subproof(old_size: int, leaves: Sequence[bytes], *, is_whole: bool) -> list[bytes]:
    if old_size == len(leaves):
        return [] if is_whole else [root(leaves)]
    split = _split(len(leaves))
    if old_size <= split:
        return [*_subproof(old_size, leaves[:split], is_whole=is_whole), root(leaves[split:])]
    return [
        *_subproof(old_size - split, leaves[split:], is_whole=False),
        root(leaves[:split]),
    ]


def _split(size: int) -> int:
    """Return the largest power of two below `size`."""
    return 1 << (size - 1).bit_length() - 1


def _are_hashes(*values: bytes) -> bool:
    return all(len(value) == HASH_BYTES for value in values)
