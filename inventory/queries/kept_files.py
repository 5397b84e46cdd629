"""Reads kept files back, and only if they are still the bytes that were kept."""

from django.core.files.storage import default_storage

from inventory.models import StoredFile
from inventory.rules.canonical import sha256_hex
from inventory.rules.refusal import Refusal


class FileIsNotAsKept(Refusal):
    """A kept file is gone, or its bytes are not those that were kept."""


def read_file(stored: StoredFile) -> bytes:
    """Read the bytes of a kept file.

    Raises:
        FileIsNotAsKept: they are gone, or their SHA-256 is not the one recorded.
    """
    content = bytes_at(stored.path)
    if content is None:
        message = f"The file “{stored.name}” is gone from the storage; restore it from a backup."
        raise FileIsNotAsKept(message)
    if sha256_hex(content) != stored.sha256:
        message = (
            f"The file “{stored.name}” is not as it was kept: its SHA-256 differs from the"
            " recorded one. Do not rely on it; restore it from a backup."
        )
        raise FileIsNotAsKept(message)
    return content


def bytes_at(path: str) -> bytes | None:
    """Read what lies at a path of the storage, unchecked; None where nothing does."""
    try:
        with default_storage.open(path) as file:
            return bytes(file.read())
    except FileNotFoundError:
        return None
