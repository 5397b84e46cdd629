"""Lets an audit read the whole record as it stood at one moment, while others go on writing."""

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction


@contextmanager
def one_moment() -> Iterator[None]:
    """Read everything inside as of its first query. Holds no lock that a writer waits for."""
    if connection.in_atomic_block:
        # The caller's transaction decides what it sees.
        yield
    elif connection.vendor == "postgresql":
        with transaction.atomic():
            _run("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
            yield
    else:
        # Django would begin at once as a writer; a deferred transaction only ever reads.
        _run("BEGIN DEFERRED")
        try:
            yield
        finally:
            _run("ROLLBACK")


def _run(statement: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(statement)
