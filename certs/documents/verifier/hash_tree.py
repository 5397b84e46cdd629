"""Checks proofs of the journal's hash tree (RFC 6962 and RFC 9162, SHA-256).

Told apart from the program's own way: a proof is unfolded from its end, top down, as the tree is
defined in RFC 9162, 2.1, instead of bit by bit from the leaf.
"""

import hashlib
from collections.abc import Sequence

HASH_SIZE = 32
EMPTY_TREE = hashlib.sha256(b"").digest()


def leaf_of(data: bytes) -> bytes:
    """Give the hash of an entry: SHA-256(0x00, data)."""
    return hashlib.sha256(b"\x00" + data).digest()


def proves_inclusion(
    *, index: int, size: int, leaf: bytes, path: Sequence[bytes], root: bytes
) -> bool:
    """Tell whether the path leads from leaf hash `leaf` at `index` to the root of `size` leaves."""
    if not 0 <= index < size or not _whole_hashes(leaf, root, *path):
        return False
    return _root_with(index, size, leaf, list(path)) == root


def proves_consistency(
    *, old_size: int, new_size: int, old_root: bytes, new_root: bytes, path: Sequence[bytes]
) -> bool:
    """Tell whether the path proves that the old tree is the beginning of the new one.

    The empty tree proves nothing about a later one, and is accepted only beside itself.
    """
    if not 0 <= old_size <= new_size or not _whole_hashes(old_root, new_root, *path):
        return False
    if old_size == new_size:
        return not path and old_root == new_root and (old_size > 0 or old_root == EMPTY_TREE)
    if old_size == 0:
        return False
    roots = _both_roots(old_size, new_size, old_root, list(path), is_whole=True)
    return roots == (old_root, new_root)


def _root_with(index: int, size: int, leaf: bytes, path: list[bytes]) -> bytes | None:
    """Give the root of `size` leaves from one leaf and its path; None if the path does not fit."""
    if size == 1:
        return None if path else leaf
    if not path:
        return None
    split = _left_size(size)
    other = path.pop()
    if index < split:
        left = _root_with(index, split, leaf, path)
        return left and _joined(left, other)
    right = _root_with(index - split, size - split, leaf, path)
    return right and _joined(other, right)


def _both_roots(
    old: int, new: int, old_root: bytes, path: list[bytes], *, is_whole: bool
) -> tuple[bytes, bytes] | None:
    """Give the old and the new root by RFC 9162, 2.1.4.1; None if the path does not fit.

    `is_whole`: the old tree is the one asked about, whose root needs no place in the path.
    """
    if old == new:
        if is_whole:
            return None if path else (old_root, old_root)
        return (path[0], path[0]) if len(path) == 1 else None
    if not path:
        return None
    split = _left_size(new)
    other = path.pop()
    if old <= split:
        left = _both_roots(old, split, old_root, path, is_whole=is_whole)
        return left and (left[0], _joined(left[1], other))
    right = _both_roots(old - split, new - split, old_root, path, is_whole=False)
    return right and (_joined(other, right[0]), _joined(other, right[1]))


def _left_size(size: int) -> int:
    """Give the largest power of two below `size`."""
    return 1 << ((size - 1).bit_length() - 1)


def _joined(left: bytes, right: bytes) -> bytes:
    return hashlib.sha256(b"\x01" + left + right).digest()


def _whole_hashes(*values: bytes) -> bool:
    return all(len(value) == HASH_SIZE for value in values)
