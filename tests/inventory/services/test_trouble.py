import errno
import sqlite3

import psycopg
import pytest
from django.db import DatabaseError, IntegrityError, InterfaceError, OperationalError, connection

from inventory.services.trouble import StorageTrouble, trouble_of

NO_ROOM = "There is no room left for the database"
BUSY = "The record is busy with somebody else's act"
LOST = "The database cannot be reached"


def raised_by(error):
    """Wrap an error of the driver as Django does."""
    with pytest.raises((DatabaseError, InterfaceError)) as wrapped, connection.wrap_database_errors:
        raise error
    return wrapped.value


def full_sqlite(tmp_path):
    """SQLite itself, made to believe that its disk is full (PRAGMA max_page_count)."""
    with sqlite3.connect(tmp_path / "full.sqlite3") as full:
        full.execute("CREATE TABLE t (a)")
        full.execute("PRAGMA max_page_count = 3")
        full.execute("INSERT INTO t VALUES (zeroblob(100000))")


def locked_sqlite(tmp_path):
    path = tmp_path / "locked.sqlite3"
    with sqlite3.connect(path) as first, sqlite3.connect(path, timeout=0) as second:
        first.execute("BEGIN IMMEDIATE")
        second.execute("BEGIN IMMEDIATE")


def missing_sqlite(tmp_path):
    sqlite3.connect(tmp_path / "no" / "folder.sqlite3")


def read_only_sqlite(tmp_path):
    sqlite3.connect(tmp_path / "a.sqlite3").execute("CREATE TABLE t (a)").connection.close()
    with sqlite3.connect(f"file:{tmp_path / 'a.sqlite3'}?mode=ro", uri=True) as read_only:
        read_only.execute("INSERT INTO t VALUES (1)")


@pytest.mark.skipif(connection.vendor != "sqlite", reason="errors of SQLite")
@pytest.mark.parametrize(
    ("fails", "title"),
    [
        (full_sqlite, NO_ROOM),
        (locked_sqlite, BUSY),
        (missing_sqlite, LOST),
        (read_only_sqlite, LOST),
    ],
    ids=["full", "locked", "gone", "read-only"],
)
def test_what_sqlite_says_is_told_in_words(fails, title, tmp_path):
    with pytest.raises(OperationalError) as wrapped, connection.wrap_database_errors:
        fails(tmp_path)
    assert trouble_of(wrapped.value).title == title


@pytest.mark.skipif(connection.vendor != "postgresql", reason="errors of PostgreSQL")
@pytest.mark.parametrize(
    ("error", "title"),
    [
        (psycopg.errors.DiskFull, NO_ROOM),
        (psycopg.errors.DeadlockDetected, BUSY),
        (psycopg.errors.SerializationFailure, BUSY),
        (psycopg.errors.LockNotAvailable, BUSY),
        (psycopg.errors.AdminShutdown, LOST),
        (psycopg.errors.CrashShutdown, LOST),
        (psycopg.errors.TooManyConnections, LOST),
        (psycopg.errors.ConnectionFailure, LOST),
        (psycopg.OperationalError, LOST),
        (psycopg.InterfaceError, LOST),
    ],
    ids=lambda value: getattr(value, "__name__", None),
)
def test_what_postgresql_says_is_told_in_words(error, title):
    assert trouble_of(raised_by(error("said by the server"))).title == title


@pytest.mark.parametrize(
    "error",
    [
        IntegrityError("UNIQUE constraint failed"),
        OperationalError("no such table", sqlite3.OperationalError("no such table")),
        ValueError("a fault of the program"),
        FileNotFoundError(errno.ENOENT, "No such file"),
        None,
    ],
    ids=["a constraint", "a table that is not there", "a fault", "a file not there", "nothing"],
)
def test_what_is_no_failure_of_the_machine_is_none(error):
    if isinstance(error, OperationalError):
        error.__cause__ = error.args[1]
    assert trouble_of(error) is None


def test_a_connection_closed_before_it_was_asked_is_lost():
    assert trouble_of(InterfaceError("connection already closed")).title == LOST


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EACCES, errno.EROFS, errno.EIO])
def test_a_storage_that_fails_is_told_wherever_it_shows(number):
    trouble = trouble_of(OSError(number, "said by the system"))
    assert trouble.retry_after_s > 0
    assert trouble_of(StorageTrouble(trouble)) == trouble
    assert trouble.sentence == f"{trouble.title}. {trouble.words}"
