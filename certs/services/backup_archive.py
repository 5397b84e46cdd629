"""Opens a backup and sees that it is whole, before anything of it is used.

Where its parts go is decided in `certs.services.restore`.
"""

import errno
import hashlib
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path

from certs.rules.backup_manifest import MANIFEST, Manifest, Part, UnfitBackup, read_manifest

_CHUNK = 1 << 20
_LARGEST_MANIFEST = 256 << 20
# What Python's reader of archives raises for bytes that are none, or that were changed.
_DAMAGE = (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError, ValueError)


@dataclass(frozen=True, slots=True)
class Backup:
    """A backup each part of which is as its list says."""

    archive: zipfile.ZipFile
    manifest: Manifest

    def content(self, part: Part) -> bytes:
        """All bytes of a part that fits into memory: a kept file, a key."""
        return self.archive.read(part.name)

    def lines(self, part: Part) -> Iterator[bytes]:
        """The lines of a table."""
        with self.archive.open(part.name) as entry:
            yield from entry


@contextmanager
def opened_backup(source: Path) -> Iterator[Backup]:
    """Open a backup; every byte of it has been held against its list before this returns.

    Raises:
        UnfitBackup: it is no backup, a part is missing, damaged or of nobody's knowing.
    """
    with ExitStack() as stack:
        try:
            backup = _read(stack.enter_context(zipfile.ZipFile(source)))
        except FileNotFoundError as error:
            raise UnfitBackup(f"There is no file {source}.") from error
        except (OSError, *_DAMAGE) as error:
            # A place before the beginning of the file (EINVAL) is what damage led to.
            if isinstance(error, OSError) and error.errno != errno.EINVAL:
                raise
            raise UnfitBackup(f"{source} is damaged or no backup: {error}.") from error
        yield backup


def _read(archive: zipfile.ZipFile) -> Backup:
    backup = Backup(archive, _manifest(archive))
    _check(backup)
    return backup


def _manifest(archive: zipfile.ZipFile) -> Manifest:
    try:
        info = archive.getinfo(MANIFEST)
    except KeyError as error:
        raise UnfitBackup("This file holds no list of a backup.") from error
    if info.file_size > _LARGEST_MANIFEST:
        raise UnfitBackup("The list of what this backup holds is too large to be one.")
    return read_manifest(archive.read(MANIFEST))


def _check(backup: Backup) -> None:
    named = sorted([MANIFEST, *(part.name for part in backup.manifest.parts)])
    held = sorted(backup.archive.namelist())
    if named != held:
        odd = sorted(set(named) ^ set(held)) or ["a name that is there twice"]
        raise UnfitBackup(f"What this backup holds is not what its list says: {', '.join(odd)}.")
    for part in backup.manifest.parts:
        if _seen(backup.archive, part) != (part.sha256, part.size_bytes):
            raise UnfitBackup(
                f"“{part.name}” in this backup is not as it was written. Use another."
            )


def _seen(archive: zipfile.ZipFile, part: Part) -> tuple[str, int]:
    digest, size = hashlib.sha256(), 0
    with archive.open(part.name) as entry:
        while size <= part.size_bytes and (chunk := entry.read(_CHUNK)):
            digest.update(chunk)
            size += len(chunk)
    return digest.hexdigest(), size
