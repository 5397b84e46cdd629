"""Keeps files under the hash of their bytes, once.

What may be kept is decided in `inventory.documents.upload`; they are read back by
`inventory.queries.kept_files`.
"""

from dataclasses import dataclass
from datetime import datetime

from inventory.documents.upload import FileKind, check_log, check_scan
from inventory.models import StoredFile
from inventory.queries.loose_files import EVIDENCE
from inventory.rules.canonical import sha256_hex
from inventory.rules.refusal import Refusal
from inventory.services.guarded import check_fields
from inventory.services.lay_down import lay_down

_EXTENSIONS = {
    "application/pdf": "pdf",
    "application/json": "json",
    "image/jpeg": "jpg",
    "image/png": "png",
}
_LONGEST_NAME = 200


class CannotKeep(Refusal):
    """A file cannot be kept."""


@dataclass(frozen=True, slots=True)
class WrittenFile:
    """A file whose bytes lie in the storage and which has no row yet."""

    sha256: str
    media_type: str
    size_bytes: int
    name: str
    path: str


def keep_file(*, content: bytes, name: str, at: datetime) -> StoredFile:
    """Keep a scanned document (PDF, JPEG, PNG). The same bytes give the same row.

    Raises:
        UnfitFile: the content is not fit to keep.
        CannotKeep: the file has no name.
    """
    return record_file(write_file(content=content, name=name), at=at)


def keep_log(*, content: bytes, name: str, at: datetime) -> StoredFile:
    """Keep the force log of a testing machine (CSV text). Raises as `keep_file` does."""
    return record_file(_write(content=content, name=name, kind=check_log(content)), at=at)


def keep_made(*, content: bytes, name: str, media_type: str, at: datetime) -> StoredFile:
    """Keep a file that this program made: PDF, JSON, JPEG or PNG, named by its media type.

    Raises:
        CannotKeep: of another media type, empty, or without a name.
    """
    if media_type not in _EXTENSIONS or not content:
        message = f"No empty file and no file of type “{media_type}” is made here."
        raise CannotKeep(message, field="media_type")
    kind = FileKind(media_type, _EXTENSIONS[media_type])
    return record_file(_write(content=content, name=name, kind=kind), at=at)


def write_file(*, content: bytes, name: str) -> WrittenFile:
    """Check a scanned document and write its bytes: slow, so it is done before a transaction.

    Bytes that no row names later do no harm: handed in again they are found in their place, and
    `inventory.services.sweep` takes away those that nobody hands in.
    """
    return _write(content=content, name=name, kind=check_scan(content))


def record_file(written: WrittenFile, *, at: datetime) -> StoredFile:
    """Return the row of bytes that were written; it is made unless there is one."""
    row = StoredFile(
        sha256=written.sha256,
        media_type=written.media_type,
        size_bytes=written.size_bytes,
        name=written.name,
        path=written.path,
        kept_at=at,
    )
    check_fields(row, refusal=CannotKeep)
    stored, _ = StoredFile.objects.get_or_create(
        sha256=written.sha256,
        defaults={
            "media_type": row.media_type,
            "size_bytes": row.size_bytes,
            "name": row.name,
            "path": row.path,
            "kept_at": at,
        },
    )
    return stored


def _write(*, content: bytes, name: str, kind: FileKind) -> WrittenFile:
    digest = sha256_hex(content)
    path = f"{EVIDENCE}/{digest[:2]}/{digest[2:4]}/{digest}.{kind.extension}"
    lay_down(content, path=path)
    return WrittenFile(digest, kind.media_type, len(content), _bare_name(name), path)


def _bare_name(name: str) -> str:
    """The last part of a file's name, printable, at most as long as there is room for."""
    last = name.replace("\\", "/").rsplit("/", maxsplit=1)[-1]
    return "".join(c for c in last if c.isprintable()).strip()[-_LONGEST_NAME:]
