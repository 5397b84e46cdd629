"""Reads every stored file again and compares size and SHA-256 with what was recorded."""

import hashlib
from collections.abc import Callable, Iterator

from django.core.exceptions import SuspiciousOperation
from django.core.files.storage import default_storage

from certs.rules.disagreement import Disagreement, What
from inventory.models import StoredFile

CHUNK = 500
BLOCK_BYTES = 1 << 20
EACH = 1000


def files_against_hashes(tell: Callable[[str], None]) -> Iterator[Disagreement]:
    """Read every file, a block at a time."""
    columns = ("pk", "path", "sha256", "size_bytes")
    rows = StoredFile.objects.order_by("pk").values_list(*columns)
    for count, (pk, path, sha256, size) in enumerate(rows.iterator(chunk_size=CHUNK), 1):
        expected = f"{size} bytes, SHA-256 {sha256}"
        found = _read(path)
        if found != expected:
            yield Disagreement(What.FILE, f"inventory.StoredFile:{pk} ({path})", expected, found)
        if count % EACH == 0:
            tell(f"{count} files")


def _read(path: str) -> str:
    hashed, size = hashlib.sha256(), 0
    try:
        with default_storage.open(path) as file:
            for block in file.chunks(BLOCK_BYTES):
                hashed.update(block)
                size += len(block)
    except FileNotFoundError:
        return "no file"
    except (OSError, SuspiciousOperation, ValueError) as error:
        # Not readable, or a path that leads out of the storage.
        return f"not readable: {error}"
    return f"{size} bytes, SHA-256 {hashed.hexdigest()}"
