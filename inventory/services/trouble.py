"""Says what is wrong when the machine fails under an act: the storage, or the database.

Nothing here mends or repeats anything. That nothing was half done is the transactions' doing; here
it is only told, with what to do about it. How it is shown is decided by pages, API and commands.
"""

import errno
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from django.db import DatabaseError, InterfaceError, OperationalError

from inventory.rules.refusal import Refusal

_NO_ROOM = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG})
_NOT_WRITABLE = frozenset(
    {errno.EACCES, errno.EPERM, errno.EROFS, errno.ENOTDIR, errno.EISDIR, errno.EEXIST}
)
_SOON_S = 5
_LATER_S = 300

# The classes of SQLSTATE that tell of the server and not of what was asked (PostgreSQL manual,
# Appendix A): 53 insufficient resources, 57P operator intervention, 58 system error, 08 connection.
_DISK_FULL = "53100"
_CROSSED = frozenset({"40P01", "40001", "55P03"})

_UNSURE = (
    "Everything is recorded whole or not at all. Look whether your last act stands in the record"
    " before you do it again."
)


@dataclass(frozen=True, slots=True)
class Trouble:
    """What fails, in words for whoever sits there, and when it is worth trying again."""

    title: str
    words: str
    retry_after_s: int

    @property
    def sentence(self) -> str:
        """All of it in one line."""
        return f"{self.title}. {self.words}"


class StorageTrouble(Refusal):
    """The storage of files does not take or give a file; the act was not recorded."""

    def __init__(self, trouble: Trouble) -> None:
        """Take what fails."""
        super().__init__(trouble.sentence)
        self.trouble = trouble


@contextmanager
def storage_trouble(*, at: Path | None = None) -> Iterator[None]:
    """Tell a failure of the storage in words; `at`: of a place that somebody named instead.

    Raises:
        StorageTrouble: where the block raised an OSError.
    """
    try:
        yield
    except OSError as error:
        trouble = _of_storage(error) if at is None else _of_place(error, at)
        raise StorageTrouble(trouble) from error


def trouble_of(error: BaseException | None) -> Trouble | None:
    """What fails, if the error is the machine's and not the program's; None otherwise."""
    if isinstance(error, StorageTrouble):
        return error.trouble
    if isinstance(error, DatabaseError | InterfaceError):
        return _of_database(error)
    if isinstance(error, OSError) and error.errno in _NO_ROOM | _NOT_WRITABLE | {errno.EIO}:
        return _of_storage(error)
    return None


def _of_storage(error: OSError) -> Trouble:
    if error.errno in _NO_ROOM:
        return Trouble(
            "There is no room left for files",
            "Nothing of this was recorded. Have the administrator make room, then do it again.",
            _LATER_S,
        )
    if error.errno in _NOT_WRITABLE:
        return Trouble(
            "The storage of files cannot be written or read",
            "Nothing of this was recorded. Have the administrator see to the folder of the files"
            " and who may write there, then do it again.",
            _LATER_S,
        )
    return Trouble(
        "The storage of files fails",
        "Nothing of this was recorded. Have the administrator see to the disk before anything"
        " else is done.",
        _LATER_S,
    )


def _of_place(error: OSError, place: Path) -> Trouble:
    return Trouble(
        f"{error.filename or place}: {error.strerror or error}",
        "It is not written. Name a place that is there, has room and may be written.",
        _LATER_S,
    )


def _of_database(error: Exception) -> Trouble | None:
    cause = error.__cause__
    if isinstance(cause, sqlite3.Error):
        return _of_sqlite(getattr(cause, "sqlite_errorcode", None) or 0)
    state = getattr(cause, "sqlstate", None)
    if state == _DISK_FULL:
        return _full()
    if state in _CROSSED:
        return _busy()
    if state is None or str(state)[:2] in {"08", "53", "57", "58"}:
        return _lost() if isinstance(error, OperationalError | InterfaceError) else None
    return None


def _of_sqlite(code: int) -> Trouble | None:
    # The low byte is the primary code (SQLite's "Result and Error Codes").
    primary = code & 0xFF
    if primary == sqlite3.SQLITE_FULL:
        return _full()
    if primary in {sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED}:
        return _busy()
    if primary in {sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY}:
        return _lost()
    return None


def _full() -> Trouble:
    return Trouble(
        "There is no room left for the database",
        "Nothing of this was recorded. Have the administrator make room, then do it again.",
        _LATER_S,
    )


def _busy() -> Trouble:
    return Trouble(
        "The record is busy with somebody else's act",
        "Nothing of this was recorded. Do it again in a moment.",
        _SOON_S,
    )


def _lost() -> Trouble:
    return Trouble("The database cannot be reached", _UNSURE, 30)
