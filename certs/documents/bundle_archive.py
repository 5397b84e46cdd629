"""Writes an auditor's bundle: one ZIP archive, one file of it in memory at a time.

The same files and moment give the same bytes. What goes in is decided by the caller; here it is
decided how the archive looks, and that its last file lists all others with their hashes.
"""

import hashlib
import json
import zipfile
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import IO, Final

MANIFEST: Final = "MANIFEST.json"
# What stands for the manifest's own hash while that is reckoned.
_NO_HASH: Final = "0" * 64
# Pictures and PDFs are packed already.
_PACKED: Final = (".pdf", ".jpg", ".png")
_FILE_OF_UNIX: Final = 3
_READABLE: Final = 0o100644 << 16


@dataclass(frozen=True, slots=True)
class BundleFile:
    """A file to be written: its place, what it is in a few words, and how to come by its bytes."""

    path: str
    what: str
    read: Callable[[], bytes]

    @classmethod
    def of_text(cls, path: str, what: str, content: str) -> "BundleFile":
        """Make a file of a text that is at hand."""
        return cls(path, what, content.encode)


@dataclass(frozen=True, slots=True)
class WrittenBundle:
    """What was written: how many files besides the manifest, and the manifest's SHA-256."""

    files: int
    manifest_sha256: str


def write_bundle(
    target: IO[bytes], files: Iterable[BundleFile], *, made_at: datetime, about: str
) -> WrittenBundle:
    """Write the files and, last, the manifest.

    Args:
        target: an open file that can be sought in.
        made_at: the date of every file in the archive, as no clock is read.
        about: what the bundle is about, in one line for the manifest.

    Raises:
        ValueError: two files of one path.
    """
    listed: dict[str, dict[str, str | int]] = {}
    with zipfile.ZipFile(target, "w") as archive:
        for file in files:
            if file.path in listed or file.path == MANIFEST:
                message = f"two files at {file.path}"
                raise ValueError(message)
            content = file.read()
            _write(archive, file.path, content, made_at=made_at)
            listed[file.path] = {
                "sha256": hashlib.sha256(content).hexdigest(),
                "size_bytes": len(content),
                "what": file.what,
            }
        text = _manifest(listed, made_at=made_at, about=about)
        _write(archive, MANIFEST, text.encode(), made_at=made_at)
    return WrittenBundle(len(listed), hashlib.sha256(text.encode()).hexdigest())


def _manifest(listed: dict[str, dict[str, str | int]], *, made_at: datetime, about: str) -> str:
    """Write the list of files, with the SHA-256 that it has while zeros stand for that."""
    manifest = {
        "about": about,
        "files": listed,
        "made_at": made_at.isoformat(),
        "own_sha256": _NO_HASH,
    }
    text = json.dumps(manifest, ensure_ascii=False, indent=2, sort_keys=True) + "\n"
    digest = hashlib.sha256(text.encode()).hexdigest()
    before, _, after = text.rpartition(_NO_HASH)
    return before + digest + after


def _write(archive: zipfile.ZipFile, path: str, content: bytes, *, made_at: datetime) -> None:
    moment = made_at.astimezone(UTC)
    info = zipfile.ZipInfo(path, moment.timetuple()[:6])
    info.create_system, info.external_attr = _FILE_OF_UNIX, _READABLE
    is_packed = path.endswith(_PACKED)
    info.compress_type = zipfile.ZIP_STORED if is_packed else zipfile.ZIP_DEFLATED
    archive.writestr(info, content)
