"""Takes away the files that an act which was killed left behind, and never one that a row names.

A file is laid down before its row is committed, so a kill between the two leaves a file that
belongs to nothing. One that is younger than the longest act may take is let alone.
"""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

from django.core.files.storage import default_storage

from inventory.models import StoredFile
from inventory.queries.loose_files import PART, LooseFile, loose_files
from inventory.services.trouble import storage_trouble

# Far longer than any act: a transaction takes seconds, a server gives a request two minutes.
LONGEST_ACT = timedelta(hours=1)
_ASIDE = f".swept{PART}"


def sweep_files(*, at: datetime, older_than: timedelta = LONGEST_ACT) -> Iterator[LooseFile]:
    """Take away each file without a row that was laid down before `at - older_than`; yield it.

    A writer of the same bytes may come in between. He makes the file young before he writes its
    row, so it is moved aside first and looked at again: young, or named by now, it goes back.

    Raises:
        StorageTrouble: the storage does not let it go.
    """
    before = at - older_than
    for loose in loose_files():
        if loose.laid_down_at < before:
            with storage_trouble():
                taken = _take(Path(default_storage.path(loose.path)), loose.path, before=before)
            if taken:
                yield loose


def _take(file: Path, path: str, *, before: datetime) -> bool:
    """Move the file aside, look again, and only then let it go."""
    if path.endswith(_ASIDE):  # left by a sweep that was killed itself
        aside, path = file, path.removesuffix(_ASIDE)
        file = Path(default_storage.path(path))
    else:
        aside = file.with_name(f"{file.name}{_ASIDE}")
        try:
            file.replace(aside)
        except FileNotFoundError:
            return False
    laid_down_at = datetime.fromtimestamp(aside.stat().st_mtime, tz=UTC)
    if laid_down_at >= before or StoredFile.objects.filter(path=path).exists():
        aside.replace(file)
        return False
    aside.unlink()
    return True
