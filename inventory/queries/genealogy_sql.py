"""The recursive SQL of the genealogy: up from rope to the mill's reel, down to all made of it.

One text serves SQLite (3.34 or later) and PostgreSQL. What is asked about is a seed, a SELECT that
the recursion starts from (`inventory.queries.seeds`); values are always bound. What the rows mean
to a reader is decided by the queries that run this SQL.

An interval is carried through each rewind without clipping it to the new reel: the map is linear
and cut pieces lie inside their reel, so what overlaps comes out the same.
"""

from dataclasses import dataclass
from typing import Any, Self

from django.db import connection


@dataclass(frozen=True, slots=True)
class Sql:
    """A piece of SQL and the values bound to its placeholders, in order."""

    sql: str
    params: tuple[Any, ...] = ()

    def then(self, sql: str, *params: object) -> Self:
        """Return this with more SQL, and its values, after it."""
        return type(self)(f"{self.sql} {sql}", (*self.params, *params))


def up(seed: Sql) -> Sql:
    """WITH clause of `up`: the asked rope and, row by row, every reel that it was on before.

    `sign * x + offset_mm` is the metre, on the row's reel, of position x of the asked scale.

    Args:
        seed: rows of (key, reel_id, from_mm, to_mm); `key` tells the asked ropes apart.

    """
    return Sql(f"WITH RECURSIVE {_UP.format(seed=seed.sql)}", seed.params)


def down(seed: Sql) -> Sql:
    """WITH clause of `down`: the asked stretches and every reel wound from them, with the metres.

    `sign * x + offset_mm` is the metre, on the asked reel, of position x of the row's reel.

    Args:
        seed: rows of (reel_id, from_mm, to_mm, through); `through` is carried along.

    """
    return Sql(f"WITH RECURSIVE {_DOWN.format(seed=seed.sql)}", seed.params)


def around(seed: Sql, *, span_mm: int) -> Sql:
    """WITH clause of `down` from the mill's reel, `span_mm` to both sides of a point of any reel.

    Args:
        seed: one row of (key, reel_id, from_mm, to_mm) with from_mm = to_mm = the point.
        span_mm: how far to look to either side, above zero.

    """
    window = _DOWN.format(seed=_WINDOW)
    return Sql(
        f"WITH RECURSIVE {_UP.format(seed=seed.sql)}, {window}", (*seed.params, span_mm, span_mm)
    )


def rows(query: Sql) -> list[tuple[Any, ...]]:
    """Run it and fetch all rows."""
    with connection.cursor() as cursor:
        cursor.execute(query.sql, query.params)
        return list(cursor.fetchall())


_UP = """up (key, reel_id, from_mm, to_mm, sign, offset_mm, depth) AS (
    SELECT seed.key, seed.reel_id, seed.from_mm, seed.to_mm, 1, CAST(0 AS bigint), 0
    FROM ({seed}) seed
  UNION ALL
    SELECT up.key, cut.reel_id,
      CASE WHEN wound.is_turned THEN wound.origin_to_mm - up.to_mm
        ELSE wound.origin_from_mm + up.from_mm END,
      CASE WHEN wound.is_turned THEN wound.origin_to_mm - up.from_mm
        ELSE wound.origin_from_mm + up.to_mm END,
      CASE WHEN wound.is_turned THEN -up.sign ELSE up.sign END,
      CASE WHEN wound.is_turned THEN wound.origin_to_mm - up.offset_mm
        ELSE wound.origin_from_mm + up.offset_mm END,
      up.depth + 1
    FROM up
    JOIN inventory_reel wound ON wound.id = up.reel_id
    JOIN inventory_cutpiece cut ON cut.id = wound.wound_from_id
)"""

# Whether the cut was reversed need not be asked: a guard keeps a cut from which a reel was wound,
# and SQLite, asked, may read the whole table to build itself a filter.
_DOWN = """down (asked_id, reel_id, from_mm, to_mm, sign, offset_mm, depth, through) AS (
    SELECT seed.reel_id, seed.reel_id, seed.from_mm, seed.to_mm, 1, CAST(0 AS bigint), 0,
      seed.through
    FROM ({seed}) seed
  UNION ALL
    SELECT down.asked_id, wound.id,
      CASE WHEN wound.is_turned THEN wound.origin_to_mm - down.to_mm
        ELSE down.from_mm - wound.origin_from_mm END,
      CASE WHEN wound.is_turned THEN wound.origin_to_mm - down.from_mm
        ELSE down.to_mm - wound.origin_from_mm END,
      CASE WHEN wound.is_turned THEN -down.sign ELSE down.sign END,
      down.offset_mm + down.sign
        * CASE WHEN wound.is_turned THEN wound.origin_to_mm ELSE wound.origin_from_mm END,
      down.depth + 1, down.through
    FROM down
    JOIN inventory_cutpiece cut ON cut.reel_id = down.reel_id
      AND cut.from_mm < down.to_mm AND cut.to_mm > down.from_mm
    JOIN inventory_reel wound ON wound.wound_from_id = cut.id
      AND wound.origin_from_mm < down.to_mm AND wound.origin_to_mm > down.from_mm
)"""

_WINDOW = """SELECT up.reel_id, up.from_mm - CAST(%s AS bigint) AS from_mm,
      up.to_mm + CAST(%s AS bigint) AS to_mm, 'rope' AS through
    FROM up JOIN inventory_reel root ON root.id = up.reel_id AND root.wound_from_id IS NULL"""
