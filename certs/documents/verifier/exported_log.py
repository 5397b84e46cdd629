"""Finds journals that were exported as static files (C2SP tlog-tiles) and hashes them anew.

Every entry is hashed, every tile of hashes held against them, and the root against the checkpoint.
Who signed the checkpoint is checked apart.
"""

import hashlib
import re
from collections.abc import Mapping, Sequence
from typing import NamedTuple

from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.hash_tree import EMPTY_TREE, leaf_of
from certs.documents.verifier.log_note import LogHead, read_head

CHECKPOINT = "checkpoint"
_WIDTH = 256
_LENGTH = 2
_DIGITS = 1000
_TILE = re.compile(
    r"(?P<folder>(?:.*/)?)tile/(?P<level>entries|[0-9]{1,2})/(?P<place>(?:x[0-9]{3}/)*[0-9]{3})"
    r"(?:\.p/(?P<width>[0-9]{1,3}))?"
)


class ExportedLog(NamedTuple):
    """A journal as exported: its folder, its checkpoint, its entries, and the tiles of hashes."""

    name: str
    head: LogHead
    entries: tuple[bytes, ...]
    # By (level, index): the file's name and its bytes, the widest first.
    tiles: Mapping[tuple[int, int], Sequence[tuple[str, bytes]]]


def is_tile(name: str) -> bool:
    """Tell whether a file is called as a tile is."""
    return _TILE.fullmatch(name) is not None


def read_exports(files: Mapping[str, bytes]) -> list[ExportedLog]:
    """Read every exported journal among these files. Raises `NotReadableError`."""
    found: dict[str, dict[tuple[str, int], list[tuple[str, bytes]]]] = {}
    # Of one tile that was written several times the widest, which has no width in its name, counts.
    for name in sorted(files, key=_width_of, reverse=True):
        match = _TILE.fullmatch(name)
        if match is not None:
            tiles = found.setdefault(match["folder"], {})
            place = (match["level"], _index(match["place"]))
            tiles.setdefault(place, []).append((name, files[name]))
    return [_read_export(folder, tiles, files) for folder, tiles in sorted(found.items())]


def fault_of_export(log: ExportedLog) -> str:
    """Say what does not agree in an exported journal; an empty text when everything does."""
    hashes = [leaf_of(entry) for entry in log.entries]
    if len(hashes) != log.head.size:
        return f"It holds {len(hashes)} entries, and its checkpoint is of {log.head.size}."
    level, row = 0, hashes
    while row:
        fault = _fault_of_tiles(log, level, row)
        if fault:
            return fault
        whole = range(0, len(row) - len(row) % _WIDTH, _WIDTH)
        level, row = level + 1, [_root(row[at : at + _WIDTH]) for at in whole]
    if any(of_level >= level for of_level, _ in log.tiles):
        return "It holds tiles of a level that a journal of its size does not have."
    if _root(hashes) != log.head.root:
        return "Its entries do not lead to the root of its checkpoint: one of them was changed."
    return ""


def _fault_of_tiles(log: ExportedLog, level: int, hashes: Sequence[bytes]) -> str:
    """Hold every tile of a level against the hashes that it must hold, and see that none lacks."""
    for index in range((len(hashes) + _WIDTH - 1) // _WIDTH):
        if (level, index) not in log.tiles:
            return f"Tile {index} of level {level} is missing."
    for (at_level, index), written in log.tiles.items():
        if at_level != level:
            continue
        wanted = b"".join(hashes[index * _WIDTH : (index + 1) * _WIDTH])
        for name, data in written:
            if not data or not wanted.startswith(data):
                return f"{name} does not hold the hashes of the entries below it."
        if written[0][1] != wanted:
            return f"{written[0][0]} does not hold all hashes."
    return ""


def _read_export(
    folder: str,
    tiles: Mapping[tuple[str, int], Sequence[tuple[str, bytes]]],
    files: Mapping[str, bytes],
) -> ExportedLog:
    name = folder + CHECKPOINT
    if name not in files:
        raise NotReadableError("it holds tiles of a journal and no checkpoint beside them")
    entries: list[bytes] = []
    for index in range(sum(level == "entries" for level, _ in tiles)):
        written = tiles.get(("entries", index))
        if written is None:
            raise NotReadableError(f"the entries from {index * _WIDTH} on are missing")
        read = [(one, _entries_of(one, data)) for one, data in written]
        entries += read[0][1]
        for one, former in read:
            if former != read[0][1][: len(former)]:
                raise NotReadableError(f"{one} holds other entries than {read[0][0]}")
    hashed = {
        (int(level), index): written
        for (level, index), written in tiles.items()
        if level != "entries"
    }
    try:
        head = read_head(files[name].decode("utf-8"))
    except UnicodeDecodeError as problem:
        raise NotReadableError("its checkpoint is not text") from problem
    return ExportedLog(name, head, tuple(entries), hashed)


def _entries_of(name: str, data: bytes) -> list[bytes]:
    entries, at = [], 0
    while at < len(data):
        begins = at + _LENGTH
        at = begins + int.from_bytes(data[at:begins], "big")
        entries.append(data[begins:at])
    if at != len(data) or not 0 < len(entries) <= _WIDTH:
        raise NotReadableError(f"{name} does not hold 1 to 256 whole entries")
    return entries


def _index(place: str) -> int:
    index = 0
    for group in place.split("/"):
        index = index * _DIGITS + int(group.lstrip("x"))
    return index


def _width_of(name: str) -> int:
    match = _TILE.fullmatch(name)
    return int(match["width"]) if match and match["width"] else _WIDTH


def _root(hashes: Sequence[bytes]) -> bytes:
    """Give the root over hashes, folded level by level: the last one without a fellow goes up."""
    row = list(hashes)
    while len(row) > 1:
        pairs = range(0, len(row) - 1, 2)
        above = [hashlib.sha256(b"\x01" + row[at] + row[at + 1]).digest() for at in pairs]
        row = above + row[len(row) - len(row) % 2 :]
    return row[0] if row else EMPTY_TREE
