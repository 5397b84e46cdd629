"""The one SELECT of every forward trace: each reel reached, with each piece cut from those metres.

A reel from which nothing was cut gives one row without a piece.
"""

from datetime import UTC, datetime
from typing import NamedTuple

from inventory.queries.genealogy_sql import Sql, rows
from inventory.rules.metres import Affine, Stretch


class CutRow(NamedTuple):
    """A piece, and what became of it."""

    piece_id: int
    code: str
    purpose: str
    from_mm: int
    to_mm: int
    wound_reel_code: str | None
    assembly_id: int | None
    assembly_code: str | None
    delivery_id: int | None
    delivery_code: str | None
    delivered_at: datetime | str | None
    customer_id: int | None
    customer_code: str | None
    customer_name: str | None

    @property
    def stretch(self) -> Stretch:
        """Its metres on the reel it was cut from."""
        return Stretch(self.from_mm, self.to_mm)


class ReachedRow(NamedTuple):
    """A reel, how it was reached, and a piece cut from the metres in question, if there is one."""

    asked_reel_id: int
    asked_reel_code: str
    reel_id: int
    reel_code: str
    origin: str
    length_mm: int
    wound_from_code: str
    from_mm: int
    to_mm: int
    sign: int
    offset_mm: int
    depth: int
    through: str
    cut: CutRow | None

    @property
    def on_asked(self) -> Affine:
        """The map from this reel's metres to those of the reel asked about."""
        return Affine(self.sign, self.offset_mm)

    def part_of(self, whole: Stretch) -> Stretch | None:
        """Return what of a stretch of this reel holds the metres in question."""
        from_mm, to_mm = max(self.from_mm, whole.from_mm), min(self.to_mm, whole.to_mm)
        return Stretch(from_mm, to_mm) if from_mm < to_mm else None


def reached(walk: Sql, *, reversed_too: bool = False) -> list[ReachedRow]:
    """Run the SELECT behind a WITH clause of `down`; reversed cuts only if asked for."""
    found = []
    for row in rows(walk.then(_REACHED).then(_cut(reversed_too)).then(_WHAT_BECAME_OF_IT)):
        reel, cut = row[:_REEL_COLUMNS], row[_REEL_COLUMNS:]
        found.append(ReachedRow._make((*reel, None if cut[0] is None else CutRow(*cut))))
    return found


def piece_ids(walk: Sql, *, reversed_too: bool = False) -> Sql:
    """Return the SELECT of `piece_id` behind a WITH clause of `down`, for use within another."""
    return walk.then("SELECT cut.id AS piece_id FROM down JOIN").then(_cut(reversed_too))


def as_moment(value: datetime | str) -> datetime:
    """Return an aware moment: the driver of SQLite gives text or a naive one, both in UTC."""
    moment = datetime.fromisoformat(value) if isinstance(value, str) else value
    return moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment


def _cut(reversed_too: bool) -> str:  # noqa: FBT001 -- of this file alone
    return _ANY_CUT_OF_REEL if reversed_too else f"{_ANY_CUT_OF_REEL} {_THAT_STANDS}"


_REEL_COLUMNS = len(ReachedRow._fields) - 1

_ANY_CUT_OF_REEL = """inventory_cutpiece cut ON cut.reel_id = down.reel_id
      AND cut.from_mm < down.to_mm AND cut.to_mm > down.from_mm"""

# The needless `OR down.depth < 0` (no depth is) ties the condition to the walk. As one of the cut
# alone, SQLite may read the whole table beforehand to build itself a filter.
_THAT_STANDS = "AND (NOT cut.is_reversed OR down.depth < 0)"

# LEFT JOIN throughout, for it also fixes the order of the joins: the walk comes first, whatever
# the planner guesses its size to be. Nor is there an ORDER BY for it to follow.
_REACHED = """
    SELECT down.asked_id, asked.code, down.reel_id, reel.code, reel.origin, reel.length_mm,
      COALESCE(wound_from.code, ''),
      down.from_mm, down.to_mm, down.sign, down.offset_mm, down.depth, down.through,
      cut.id, cut.code, cut.purpose, cut.from_mm, cut.to_mm, wound.code,
      assembly.id, assembly.code,
      delivery.id, delivery.code, delivery.delivered_at,
      customer.id, customer.code, customer.name
    FROM down
    LEFT JOIN inventory_reel reel ON reel.id = down.reel_id
    LEFT JOIN inventory_reel asked ON asked.id = down.asked_id
    LEFT JOIN inventory_cutpiece wound_from ON wound_from.id = reel.wound_from_id
    LEFT JOIN"""

_WHAT_BECAME_OF_IT = """
    LEFT JOIN inventory_reel wound ON wound.wound_from_id = cut.id
    LEFT JOIN inventory_assemblypiece built_in ON built_in.piece_id = cut.id
    LEFT JOIN inventory_assembly assembly ON assembly.id = built_in.assembly_id
    LEFT JOIN inventory_deliveryitem of_piece ON of_piece.piece_id = cut.id
    LEFT JOIN inventory_deliveryitem of_assembly ON of_assembly.assembly_id = assembly.id
    LEFT JOIN inventory_delivery delivery
      ON delivery.id = COALESCE(of_piece.delivery_id, of_assembly.delivery_id)
    LEFT JOIN inventory_party customer ON customer.id = delivery.customer_id"""
