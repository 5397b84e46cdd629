"""Puts a backup into an empty record: all of it or nothing.

How a backup is held against its list is decided in `certs.services.backup_archive`, how the rows
go in in `certs.services.restore_rows`.
"""

import os
from collections.abc import Callable
from pathlib import Path

from django.conf import settings
from django.core.files.storage import default_storage
from django.db import transaction

from certs.queries.audit.whole import audit
from certs.queries.record_rows import migrations, tables
from certs.rules.backup_manifest import FILES, KEYS, ROWS, Manifest
from certs.services.backup_archive import Backup, opened_backup
from certs.services.restore_rows import WRITTEN_BY_DJANGO, put_rows
from inventory.queries.loose_files import loose_files
from inventory.rules.refusal import Refusal
from inventory.services.lay_down import lay_down
from inventory.services.trouble import storage_trouble

Told = Callable[[str], None]


class CannotRestore(Refusal):
    """The record at hand cannot take this backup; nothing was changed."""


def restore(source: Path, *, told: Told, as_it_is: bool = False) -> Manifest:
    """Restore a backup into the database and the storage of the settings, which must be empty.

    1. See that the backup is whole. 2. See that its tables are those at hand, and empty. 3. Lay the
    files down. 4. Put the keys back. 5. Put the rows in and read them back, and see that the record
    agrees with its journal, in one transaction.

    Args:
        as_it_is: restore also a record that does not agree with its journal, and tell what.

    Raises:
        UnfitBackup: the backup is damaged.
        CannotRestore: tables of another shape, a record that is not empty, or one to restore that
            does not agree with its journal.
        StorageTrouble: no room, or nobody may write there.
    """
    # 1.
    with opened_backup(source) as backup:
        told(f"whole: {len(backup.manifest.parts)} parts, of {backup.manifest.made_at}")
        # 2.
        _check_shape(backup.manifest)
        _check_empty(backup.manifest)
        # 3. and 4. Nothing names them yet, so they go again if the rows do not go in.
        laid_down: list[Path] = []
        try:
            _put_files(backup, laid_down, told=told)
            _put_keys(backup, laid_down)
            # 5.
            with transaction.atomic():
                put_rows(backup)
                _check_record(told=told, as_it_is=as_it_is)
            told(f"{sum(p.rows or 0 for p in backup.manifest.of(ROWS))} rows, read back the same")
        except BaseException:
            for file in laid_down:
                file.unlink(missing_ok=True)
            raise
        return backup.manifest


def _check_shape(manifest: Manifest) -> None:
    here = set(migrations())
    odd = sorted(here ^ set(manifest.migrations))
    if odd:
        raise CannotRestore(
            "This backup has tables of another version of the program. It differs by:"
            f" {', '.join(odd)}. Restore it with the version that made it, then run migrate."
        )
    known = sorted(f"{ROWS}/{model._meta.db_table}.jsonl" for model in tables())
    if known != sorted(part.name for part in manifest.of(ROWS)):
        raise CannotRestore("This backup has other tables than this version of the program.")


def _check_empty(manifest: Manifest) -> None:
    for model in tables():
        name = model._meta.db_table
        rows = model._base_manager.all()  # noqa: SLF001 -- the one that hides no row
        if name not in WRITTEN_BY_DJANGO and rows.exists():
            raise CannotRestore(
                f"The database is in use: {name} has rows. Restore into an empty one, by naming"
                " another in DATABASE_URL and another folder in STORAGE_ROOT."
            )
    wanted = {part.name.removeprefix(f"{FILES}/") for part in manifest.of(FILES)}
    strange = next((file for file in loose_files() if file.path not in wanted), None)
    if strange is not None:
        raise CannotRestore(
            f"The storage is in use: {strange.path} is of no file in this backup. Restore into an"
            " empty folder, by naming another in STORAGE_ROOT."
        )


def _check_record(*, told: Told, as_it_is: bool) -> None:
    count = 0
    for one in audit():
        count += 1
        told(f"{one.what}: {one.where}")
    if count and not as_it_is:
        raise CannotRestore(
            f"The record in this backup does not agree with its journal, in {count} places. Look"
            " for an older backup; with --as-it-is this one is restored all the same."
        )


def _put_files(backup: Backup, laid_down: list[Path], *, told: Told) -> None:
    parts = backup.manifest.of(FILES)
    for count, part in enumerate(parts, 1):
        path = part.name.removeprefix(f"{FILES}/")
        is_new = not default_storage.exists(path)
        lay_down(backup.content(part), path=path)
        if is_new:
            laid_down.append(Path(default_storage.path(path)))
        if count % 500 == 0:
            told(f"{count} of {len(parts)} files")
    told(f"{len(parts)} files")


def _put_keys(backup: Backup, laid_down: list[Path]) -> None:
    for part in backup.manifest.of(KEYS):
        file = settings.KEYS_ROOT / part.name.removeprefix(f"{KEYS}/")
        content = backup.content(part)
        with storage_trouble():
            if file.exists():
                if file.read_bytes() != content:
                    raise CannotRestore(f"There is another key file {file.name} in KEYS_ROOT.")
                continue
            file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            opened = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            laid_down.append(file)
            with os.fdopen(opened, "wb") as key:
                key.write(content)
