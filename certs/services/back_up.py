"""Writes the whole record into one file: rows, kept files, and key files if that is asked for.

The rows are those of one moment, while others go on working. Kept files never change and are laid
down before their row is committed, so they may be read after that moment.
"""

import hashlib
import zipfile
from collections.abc import Callable, Iterable, Iterator
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.db import connection

from certs.queries.audit.one_moment import one_moment
from certs.queries.record_rows import lines, migrations, tables
from certs.rules.backup_manifest import (
    FILES,
    KEYS,
    MANIFEST,
    ROWS,
    Manifest,
    Part,
    manifest_text,
)
from inventory.models import JournalHead, StoredFile
from inventory.queries.kept_files import FileIsNotAsKept, read_file
from inventory.rules.refusal import Refusal
from inventory.services.journal import EMPTY_CHAIN
from inventory.services.trouble import storage_trouble
from inventory.services.whole_file import OWNER_ONLY, whole_file

Told = Callable[[str], None]
# Whoever holds a backup holds names, hashes of pass phrases and tokens.


class CannotBackUp(Refusal):
    """A backup cannot be written there."""


def back_up(target: Path, *, at: datetime, with_keys: bool, told: Told) -> Manifest:
    """Write a backup of the record as it stands; whole, or there is none.

    Files that are gone or not as they were kept are left out and named in the manifest.

    Args:
        with_keys: put the private key files in as well, encrypted as they are.
        told: is given a line now and then, for whoever waits.

    Raises:
        CannotBackUp: there is such a file already.
        StorageTrouble: no room, or nobody may write there.
    """
    if target.exists():
        raise CannotBackUp(f"{target} is there already; a backup is never written over another.")
    with (
        storage_trouble(at=target),
        whole_file(target) as file,
        zipfile.ZipFile(file, "w") as archive,
    ):
        return _write(_Archive(archive, at), with_keys=with_keys, told=told)


class _Archive:
    """The file that is being written."""

    def __init__(self, archive: zipfile.ZipFile, at: datetime) -> None:
        self.archive = archive
        self.at = at.astimezone(UTC)

    def add(self, name: str, chunks: Iterable[bytes], *, is_text: bool = False) -> Part:
        """Add a part chunk by chunk; text is made small, scans and papers are so already."""
        info = zipfile.ZipInfo(name, self.at.timetuple()[:6])
        info.compress_type = zipfile.ZIP_DEFLATED if is_text else zipfile.ZIP_STORED
        info.external_attr = OWNER_ONLY << 16
        digest, size, count = hashlib.sha256(), 0, 0
        with self.archive.open(info, "w", force_zip64=True) as entry:
            for chunk in chunks:
                entry.write(chunk)
                digest.update(chunk)
                size += len(chunk)
                count += 1
        return Part(name, digest.hexdigest(), size, count if is_text else None)


def _write(archive: _Archive, *, with_keys: bool, told: Told) -> Manifest:
    """1. The rows of one moment, and which files they name. 2. The files. 3. Keys. 4. The list."""
    # 1.
    with one_moment():
        parts = [_table(archive, model._meta.db_table, lines(model)) for model in tables()]
        kept = list(StoredFile.objects.order_by("path"))
        head = JournalHead.objects.first()
        shape = migrations()
    told(f"{sum(part.rows or 0 for part in parts)} rows of {len(parts)} tables")
    # 2.
    missing: list[str] = []
    for count, row in enumerate(kept, 1):
        try:
            parts.append(archive.add(f"{FILES}/{row.path}", [read_file(row)]))
        except FileIsNotAsKept as damage:
            missing.append(row.path)
            told(damage.message)
        if count % 500 == 0:
            told(f"{count} of {len(kept)} files")
    told(f"{len(kept) - len(missing)} files")
    # 3.
    if with_keys:
        parts += [archive.add(f"{KEYS}/{name}", [content]) for name, content in _key_files()]
    # 4.
    manifest = Manifest(
        made_at=archive.at.isoformat(timespec="seconds"),
        engine=connection.vendor,
        migrations=shape,
        journal_size=head.size if head else 0,
        chain_hash=head.chain_hash if head else EMPTY_CHAIN,
        parts=tuple(parts),
        missing=tuple(missing),
    )
    archive.add(MANIFEST, [manifest_text(manifest).encode()])
    return manifest


def _table(archive: _Archive, name: str, rows: Iterator[bytes]) -> Part:
    return archive.add(f"{ROWS}/{name}.jsonl", rows, is_text=True)


def _key_files() -> Iterator[tuple[str, bytes]]:
    if settings.KEYS_ROOT.is_dir():
        for file in sorted(settings.KEYS_ROOT.iterdir()):
            if file.is_file() and file.suffix == ".pem":
                yield file.name, file.read_bytes()
