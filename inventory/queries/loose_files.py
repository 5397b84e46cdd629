"""Finds the files that no row names: what an act that was killed had laid down already.

They belong to nothing on record. Whether they are taken away is `inventory.services.sweep`'s.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import islice
from pathlib import Path

from django.core.files.storage import default_storage

from inventory.models import StoredFile

# Where evidence lies in the storage, and how a file ends that is still being written.
EVIDENCE = "evidence"
PART = ".part"
_AT_ONCE = 500


@dataclass(frozen=True, slots=True)
class LooseFile:
    """A file in the storage that no row names."""

    path: str
    size_bytes: int
    laid_down_at: datetime


def loose_files() -> Iterator[LooseFile]:
    """All files without a row, in no order, however young: one may belong to an act under way."""
    root = Path(default_storage.path(""))
    found = (path for path in (root / EVIDENCE).rglob("*") if path.is_file())
    while some := list(islice(found, _AT_ONCE)):
        names = {str(path.relative_to(root)) for path in some}
        named = set(StoredFile.objects.filter(path__in=names).values_list("path", flat=True))
        for name in sorted(names - named):
            loose = _seen(root, name)
            if loose is not None:
                yield loose


def _seen(root: Path, name: str) -> LooseFile | None:
    """The file as it stands; None where its act was done with it meanwhile."""
    try:
        stat = (root / name).stat()
    except FileNotFoundError:
        return None
    return LooseFile(name, stat.st_size, datetime.fromtimestamp(stat.st_mtime, tz=UTC))
