"""Finds when each thing of a story was recorded, and when a cut was taken back.

What a story known at an earlier moment leaves out is decided from it, in `certs.queries.as_known`.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import chain
from typing import Any, Final

from django.db.models import Model

from certs.models import BreakingTest, ProofTest, WireTest
from certs.queries.batches import in_batches
from certs.queries.trace_back_shapes import LotRow
from certs.queries.trace_shapes import Story
from inventory.models import (
    Assembly,
    CutPiece,
    CutReversal,
    Delivery,
    FittingLot,
    Heat,
    MillDocument,
    Reel,
)

_RECORDED: Final[Mapping[str, tuple[type[Model], str]]] = {
    "H": (Heat, "recorded_at"),
    "D": (MillDocument, "filed_at"),
    "R": (Reel, "received_at"),
    "P": (CutPiece, "cut_at"),
    "F": (FittingLot, "received_at"),
    "A": (Assembly, "built_at"),
    "V": (Delivery, "delivered_at"),
    "BT": (BreakingTest, "recorded_at"),
    "PT": (ProofTest, "recorded_at"),
    "WT": (WireTest, "recorded_at"),
}
"""The letters of a code: whose it is, and the column that tells when it was recorded."""


@dataclass(frozen=True, slots=True)
class Moments:
    """What was on record before the moment `until`.

    `recorded` has the moment of each code, `taken_back` that of each reversed cut.
    """

    until: datetime
    recorded: Mapping[str, datetime]
    taken_back: Mapping[str, datetime]

    def has(self, code: str) -> bool:
        """Tell whether the thing was on record and stood."""
        if code not in self.recorded or self.recorded[code] >= self.until:
            return False
        return code not in self.taken_back or self.taken_back[code] >= self.until

    def code(self, code: str) -> str:
        """Return a code that was on record, "" for one that was not."""
        return code if self.has(code) else ""

    def moment(self, moment: str) -> str:
        """Return a moment in ISO 8601 that had come, "" for one that had not."""
        return moment if moment and datetime.fromisoformat(moment) < self.until else ""


def moments_of(story: Story, *, until: datetime) -> Moments:
    """Find the moments of everything in a story: one query for each kind of thing."""
    by_letters: dict[str, set[str]] = {letters: set() for letters in _RECORDED}
    for code in _codes(story):
        letters = code.partition("-")[0]
        if letters in by_letters:
            by_letters[letters].add(code)
    recorded = {}
    for letters, codes in by_letters.items():
        model, column = _RECORDED[letters]
        recorded.update(_read(model, "code", column, codes))
    taken_back = _read(CutReversal, "cut__code", "reversed_at", by_letters["P"])
    return Moments(until=until, recorded=recorded, taken_back=taken_back)


def _read(model: type[Model], key: str, column: str, codes: Collection[str]) -> dict[str, datetime]:
    found: dict[str, Any] = {}
    for some in in_batches(codes):
        rows = model._default_manager.filter(**{f"{key}__in": some})  # noqa: SLF001 -- Django's way
        found.update(rows.values_list(key, column))
    return found


def _codes(story: Story) -> Iterator[str]:
    """Yield every code of a story that something is recorded under; some more than once."""
    yield story["asked"]["code"]
    for rope in story["back"]:
        yield from (reel["code"] for reel in rope["reels"])
        yield from (heat["code"] for heat in rope["heats"])
        yield from (paper["code"] for paper in rope["mill_documents"])
    for lot in chain(story["fitting_lots"], story["made_lots"]):
        yield from _of_lot(lot)
    for piece in story["pieces"]:
        yield from (piece["code"], piece["wound_reel"], piece["assembly"], piece["delivery"])
    for row in chain(story["reels"], story["assemblies"], story["deliveries"]):
        yield row["code"]
    for test in chain(story["rope_tests"], story["breaking_tests"], story["proof_tests"]):
        yield test["code"]
    yield from (test["code"] for test in story["wire_tests"])
    yield from _at_point(story)


def _of_lot(lot: LotRow) -> tuple[str, str, str]:
    return lot["code"], lot["heat"], lot["document"]


def _at_point(story: Story) -> Iterator[str]:
    point = story["point"]
    if point is None:
        return
    yield from (heat["code"] for heat in point["heats"])
    for one in point["around"]:
        yield from (one["piece"], one["assembly"], one["delivery"])
