"""A log as static files: which tiles a tree of a size has, where they lie, and what they hold.

A tile is up to 256 consecutive hashes of one level, and levels are eight apart. This file gives
paths and contents and reads them back; who writes the files is decided elsewhere.
Source: C2SP tlog-tiles v0.1.0, read.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from inventory.rules.merkle import HASH_BYTES

WIDTH: Final = 256
# Levels of the tree from one level of tiles to the next: 2^8 hashes make one.
STEP: Final = 8
MOST_ENTRY_BYTES: Final = 65_535
_LENGTH_BYTES: Final = 2
_DIGITS: Final = 1000


@dataclass(frozen=True, slots=True)
class Tile:
    """Tile `index` of a level, with its first `width` hashes; a full one has 256.

    `level` counts tiles, not levels of the tree: its hashes are roots over 256^level entries.
    """

    level: int
    index: int
    width: int

    @property
    def is_full(self) -> bool:
        """Tell whether nothing will ever be added to it."""
        return self.width == WIDTH

    @property
    def path(self) -> str:
        """Say where its hashes lie, from the root of the log."""
        return f"tile/{self.level}/{self._place}"

    @property
    def entries_path(self) -> str:
        """Say where the entries of a tile of level 0 lie."""
        return f"tile/entries/{self._place}"

    @property
    def first(self) -> int:
        """Give the number of its first hash, within its level."""
        return self.index * WIDTH

    @property
    def _place(self) -> str:
        place = tile_place(self.index)
        return place if self.is_full else f"{place}.p/{self.width}"


def tile_place(index: int) -> str:
    """Write an index in groups of three digits, all but the last with an x: x001/x234/067."""
    groups = [f"{index % _DIGITS:03d}"]
    while index := index // _DIGITS:
        groups.append(f"x{index % _DIGITS:03d}")
    return "/".join(reversed(groups))


def tiles_of(size: int, *, level: int) -> Iterator[Tile]:
    """Name the tiles of one level of a tree of `size` entries, the partial one last."""
    hashes = size >> (STEP * level)
    for index in range(hashes // WIDTH):
        yield Tile(level, index, WIDTH)
    if hashes % WIDTH:
        yield Tile(level, hashes // WIDTH, hashes % WIDTH)


def levels_of(size: int) -> range:
    """Name the levels of tiles of a tree of `size` entries."""
    return range((size.bit_length() + STEP - 1) // STEP)


def tile_content(hashes: Sequence[bytes]) -> bytes:
    """Write the hashes of a tile, one behind the other."""
    return b"".join(hashes)


def read_tile(content: bytes) -> list[bytes]:
    """Read the hashes of a tile.

    Raises `ValueError` unless it holds 1 to 256 whole hashes.
    """
    if not content or len(content) % HASH_BYTES or len(content) > WIDTH * HASH_BYTES:
        message = "a tile holds 1 to 256 whole hashes"
        raise ValueError(message)
    return [content[at : at + HASH_BYTES] for at in range(0, len(content), HASH_BYTES)]


def bundle_content(entries: Sequence[bytes]) -> bytes:
    """Write entries, each behind its length in two bytes.

    Raises `ValueError` for an entry that is longer than two bytes can say.
    """
    if any(len(entry) > MOST_ENTRY_BYTES for entry in entries):
        message = f"an entry has at most {MOST_ENTRY_BYTES} bytes"
        raise ValueError(message)
    return b"".join(len(entry).to_bytes(_LENGTH_BYTES, "big") + entry for entry in entries)


def read_bundle(content: bytes) -> list[bytes]:
    """Read entries that were written behind their lengths.

    Raises `ValueError` where the bytes end before an entry does.
    """
    entries, at = [], 0
    while at < len(content):
        begins = at + _LENGTH_BYTES
        at = begins + int.from_bytes(content[at:begins], "big")
        entries.append(content[begins:at])
    if at != len(content):
        message = "the bytes end before the entry does"
        raise ValueError(message)
    return entries
