"""Where an audit keeps what it has read until it compares it: a file that vanishes with it.

Memory stays flat however long the journal is. Nothing of the record is written here or changed.
"""

import sqlite3
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Self

_TABLES = """
CREATE TABLE bound (label TEXT, pk INTEGER, digest TEXT, named TEXT, by INTEGER, number INTEGER,
                    PRIMARY KEY (label, pk)) WITHOUT ROWID;
CREATE TABLE taken (series TEXT, number INTEGER, place TEXT,
                    PRIMARY KEY (series, number)) WITHOUT ROWID;
CREATE TABLE said (act TEXT, subject TEXT, number INTEGER, detail TEXT,
                   PRIMARY KEY (act, subject)) WITHOUT ROWID;
"""


@dataclass(frozen=True, slots=True)
class Bound:
    """What the last entry that names a row says of it; no digest: the row was thrown away."""

    label: str
    pk: int
    digest: str | None
    named: str | None
    by: int
    number: int


class Scratch:
    """Three tables on disk: rows as bound, numbers as taken, and what some acts said."""

    def __init__(self) -> None:
        """Make the file, which has no name."""
        self._db = sqlite3.connect("", isolation_level=None)
        self._db.executescript("PRAGMA journal_mode=OFF; PRAGMA synchronous=OFF;" + _TABLES)

    def __enter__(self) -> Self:
        """Use it as long as the audit lasts."""
        return self

    def __exit__(self, *_: object) -> None:
        """Let the file vanish."""
        self._db.close()

    def bind(self, rows: Iterable[Bound]) -> None:
        """Keep what entries say of rows, in their order: the last word counts."""
        self._many(
            "INSERT OR REPLACE INTO bound VALUES (?, ?, ?, ?, ?, ?)",
            ((r.label, r.pk, r.digest, r.named, r.by, r.number) for r in rows),
        )

    def bound(self, label: str) -> Iterator[Bound]:
        """Give back what is known of the rows of one model, by primary key."""
        query = "SELECT label, pk, digest, named, by, number FROM bound WHERE label = ? ORDER BY pk"
        for row in self._db.execute(query, (label,)):
            yield Bound(*row)

    def labels(self) -> list[str]:
        """Name every model that an entry names a row of."""
        found = self._db.execute("SELECT DISTINCT label FROM bound ORDER BY label")
        return [str(row[0]) for row in found]

    def take(self, numbers: Iterable[tuple[str, int, str]]) -> None:
        """Keep that a number of a series is used, and where."""
        self._many("INSERT OR IGNORE INTO taken VALUES (?, ?, ?)", numbers)

    def span(self, series: str) -> tuple[int, int, int]:
        """Tell how many numbers of a series are used, the least and the greatest; noughts: none."""
        query = (
            "SELECT count(*), coalesce(min(number), 0), coalesce(max(number), 0)"
            " FROM taken WHERE series = ?"
        )
        many, least, greatest = self._db.execute(query, (series,)).fetchone()
        return int(many), int(least), int(greatest)

    def gaps(self, series: str) -> Iterator[tuple[int, int]]:
        """Give the first and the last number of each gap between two numbers that are used."""
        query = (
            "SELECT number + 1, following - 1 FROM (SELECT number, lead(number) OVER"
            " (ORDER BY number) AS following FROM taken WHERE series = ?)"
            " WHERE following > number + 1"
        )
        yield from self._db.execute(query, (series,))

    def series(self) -> list[str]:
        """Name every series of which a number is used."""
        found = self._db.execute("SELECT DISTINCT series FROM taken ORDER BY series")
        return [str(row[0]) for row in found]

    def say(self, entries: Iterable[tuple[str, str, int, str]]) -> None:
        """Keep act, subject, number and detail (JSON) of an entry; the last one counts."""
        self._many("INSERT OR REPLACE INTO said VALUES (?, ?, ?, ?)", entries)

    def said(self, act: str, subject: str) -> tuple[int, str] | None:
        """Give back the number and the detail of the entry of this act on this subject."""
        query = "SELECT number, detail FROM said WHERE act = ? AND subject = ?"
        found: tuple[int, str] | None = self._db.execute(query, (act, subject)).fetchone()
        return found

    def subjects(self, act: str) -> Iterator[str]:
        """Name the subjects of all entries of an act."""
        query = "SELECT subject FROM said WHERE act = ? ORDER BY subject"
        for row in self._db.execute(query, (act,)):
            yield str(row[0])

    def _many(self, statement: str, rows: Iterable[tuple[object, ...]]) -> None:
        self._db.execute("BEGIN")
        self._db.executemany(statement, rows)
        self._db.execute("COMMIT")
