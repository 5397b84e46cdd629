"""Writes the journal as static files that any web server can serve and any monitor can audit.

The layout is that of C2SP tlog-tiles. Full tiles never change, so only what is new is written, each
file beside its place and then renamed; the checkpoint comes last, when all it covers is there.
A folder that holds a checkpoint which the journal does not extend is left as it is: it is evidence.
"""

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from inventory.models import Checkpoint, JournalEntry, MerkleNode
from inventory.queries.checkpoints import log_keys, standing_checkpoint
from inventory.queries.journal_proofs import (
    BrokenTree,
    NoSuchProof,
    consistency_proof,
    root_at,
)
from inventory.rules.checkpoint import LogHead, open_checkpoint, read_head
from inventory.rules.merkle import leaf_hash
from inventory.rules.refusal import Refusal
from inventory.rules.signed_note import NotANote, NotSigned, read_note
from inventory.rules.tiles import STEP, Tile, bundle_content, levels_of, tile_content, tiles_of
from inventory.services.trouble import storage_trouble
from inventory.services.whole_file import whole_file

CHECKPOINT = "checkpoint"
# A web server of another user reads these.
_FOR_ALL = 0o666


class CannotExport(Refusal):
    """There is nothing to export, or what is there is of another journal."""


@dataclass(frozen=True, slots=True)
class Exported:
    """Of how many entries the folder is now, and how many files were written for it."""

    size: int
    files: int


def export_log(folder: Path) -> Exported:
    """Bring the folder up to the last checkpoint; what is there already is not written again.

    Raises:
        CannotExport: no checkpoint is signed yet, the journal is not the one that was signed, or
            the folder holds a checkpoint that the journal does not extend.
        StorageTrouble: the folder cannot be written.
    """
    standing = standing_checkpoint()
    if standing is None:
        message = "No checkpoint is signed yet. Run manage.py checkpoint first."
        raise CannotExport(message)
    with storage_trouble(at=folder):
        _check_same(standing, folder)
        written = sum(
            _write_tile(folder, tile)
            for level in levels_of(standing.size)
            for tile in tiles_of(standing.size, level=level)
        )
        written += _put(folder / CHECKPOINT, standing.note.encode())
    return Exported(standing.size, written)


def _check_same(standing: Checkpoint, folder: Path) -> None:
    """Refuse a journal that is not the one signed, and a folder of another journal."""
    try:
        if root_at(standing.size).hex() != standing.root:
            raise CannotExport(_NOT_SIGNED)
        kept = folder / CHECKPOINT
        if kept.exists():
            _check_extends(kept.read_text(encoding="utf-8"), standing)
    except (BrokenTree, NoSuchProof) as error:
        raise CannotExport(_NOT_SIGNED) from error


_NOT_SIGNED = (
    "The journal is not the one that was signed, so nothing is written. Run manage.py audit."
)
_ANOTHER = (
    "The folder holds a checkpoint that this journal does not extend. Nothing in it was touched:"
    " it may be the proof of what was changed. Keep it, and run manage.py audit."
)


def _check_extends(note: str, standing: Checkpoint) -> None:
    """Refuse unless the checkpoint in the folder is signed by a key on record and a beginning."""
    try:
        before = _opened(note)
        proof = consistency_proof(old_size=before.size, new_size=standing.size)
    except (NotANote, NotSigned, NoSuchProof) as error:
        raise CannotExport(_ANOTHER) from error
    if proof.old_root != before.root:
        raise CannotExport(_ANOTHER)


def _opened(note: str) -> LogHead:
    """Open the note under the origin it names: the house may have moved since."""
    origin = read_head(read_note(note).text).origin
    return open_checkpoint(note, keys=log_keys(origin)).head


def _write_tile(folder: Path, tile: Tile) -> int:
    """Write the hashes of a tile and, on the lowest level, its entries; return how many files."""
    paths = [tile.path] if tile.level else [tile.path, tile.entries_path]
    if all((folder / path).exists() for path in paths):
        return 0
    contents = [_nodes(tile)] if tile.level else list(_leaves(tile))
    written = sum(
        _put(folder / path, content) for path, content in zip(paths, contents, strict=True)
    )
    if tile.is_full:
        for path in paths:
            # The full tile stands for every partial one before it.
            shutil.rmtree(folder / f"{path}.p", ignore_errors=True)
    return written


def _nodes(tile: Tile) -> bytes:
    stored = MerkleNode.objects.filter(
        level=STEP * tile.level, index__gte=tile.first, index__lt=tile.first + tile.width
    ).order_by("index")
    return _whole(tile, [bytes.fromhex(told) for told in stored.values_list("hash", flat=True)])


def _leaves(tile: Tile) -> Iterator[bytes]:
    """Give the hashes of a lowest tile and its entries, which must be of these hashes."""
    entries = JournalEntry.objects.filter(
        number__gte=tile.first, number__lt=tile.first + tile.width
    ).order_by("number")
    rows = list(entries.values_list("leaf_hash", "canonical"))
    texts = [text.encode() for _, text in rows]
    hashes = [bytes.fromhex(told) for told, _ in rows]
    if hashes != [leaf_hash(text) for text in texts]:
        raise CannotExport(_NOT_SIGNED)
    yield _whole(tile, hashes)
    yield bundle_content(texts)


def _whole(tile: Tile, hashes: list[bytes]) -> bytes:
    if len(hashes) != tile.width:
        raise CannotExport(_NOT_SIGNED)
    return tile_content(hashes)


def _put(target: Path, content: bytes) -> int:
    """Write a file whole or not at all; return whether it was written."""
    if target.exists() and target.read_bytes() == content:
        return 0
    target.parent.mkdir(parents=True, exist_ok=True)
    with whole_file(target, mode=_FOR_ALL) as file:
        file.write(content)
    return 1
