"""Writes a file outside the storage whole or not at all: beside its place, and then renamed."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO

OWNER_ONLY = 0o600


@contextmanager
def whole_file(target: Path, *, mode: int = OWNER_ONLY) -> Iterator[IO[bytes]]:
    """Give a file to write; it stands at its place, forced to the disk, when nothing has failed.

    Args:
        target: its place, in a folder that is there. A file there is replaced.
        mode: its permissions, less those that the umask takes.

    Raises:
        OSError: nobody may write there, or there is no room; nothing is left behind.
    """
    part = target.with_name(f"{target.name}.part")
    opened = os.open(part, os.O_RDWR | os.O_CREAT | os.O_TRUNC, mode)
    try:
        with os.fdopen(opened, "w+b") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        part.replace(target)
    except BaseException:
        part.unlink(missing_ok=True)
        raise
