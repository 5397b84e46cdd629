"""Lays bytes down in the storage so that a path holds all of them or nothing, and holds on to them.

Written beside their path, forced to the disk and only then renamed: neither a kill nor a power cut
leaves half a file under a name that a row may bear. What is said of a storage that fails is decided
in `inventory.services.trouble`; `inventory.services.sweep` takes away what a kill left behind.
"""

import os
import secrets
from pathlib import Path
from typing import cast

from django.core.files.storage import FileSystemStorage, default_storage

from inventory.queries.kept_files import bytes_at
from inventory.queries.loose_files import PART
from inventory.services.trouble import storage_trouble


def lay_down(content: bytes, *, path: str) -> None:
    """Put the bytes at their path, which only these bytes can have; mend a damaged file there.

    Raises:
        StorageTrouble: there is no room, or the storage does not take it; nothing is left behind.
    """
    with storage_trouble():
        target = Path(default_storage.path(path))
        if bytes_at(path) == content:
            # Young again: no sweep takes a file that this act is about to give a row.
            os.utime(target)
            return
        made = _make_folder(target.parent)
        _write_beside(target, content)
        for folder in (target.parent, *made):
            _settle(folder)


def _make_folder(folder: Path) -> list[Path]:
    """Make the folder; return those that hold the name of a new one."""
    new = [f for f in (folder, *folder.parents) if not f.exists()]
    folder.mkdir(parents=True, exist_ok=True)
    return [f.parent for f in new]


def _write_beside(target: Path, content: bytes) -> None:
    part = target.with_name(f"{target.name}.{secrets.token_hex(8)}{PART}")
    try:
        with part.open("xb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.chmod(_permissions())
        part.replace(target)
    except BaseException:
        part.unlink(missing_ok=True)
        raise


def _permissions() -> int:
    storage = cast("FileSystemStorage", default_storage)
    return storage.file_permissions_mode or 0o440


def _settle(folder: Path) -> None:
    """Force the names in a folder to the disk: the rename is lost with the power otherwise."""
    opened = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)
