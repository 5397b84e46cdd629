"""Puts cut pieces together for paper: what is alike of many is told once, at the head of a table.

Sixty pieces of one reel have one designation, its heats and one maker's document; told piece by
piece they fill four pages instead of one and a half.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

Facts = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class PieceGroup:
    """Pieces that are alike, and the facts they share; `shared` is the first of them."""

    pieces: tuple[Facts, ...]

    @property
    def shared(self) -> Facts:
        """Give a piece that stands for all in what they share."""
        return self.pieces[0]

    @property
    def heats(self) -> str:
        """Name the heats in the rope of the pieces."""
        return ", ".join(heat["number"] for heat in self.shared["heats"])

    @property
    def is_of_mill_reel(self) -> bool:
        """Tell whether they were cut from the mill's own reel: its metres are told once."""
        return all(
            (piece["reel"], piece["from_mm"], piece["to_mm"])
            == tuple(piece["mill_stretch"][name] for name in ("reel", "from_mm", "to_mm"))
            for piece in self.pieces
        )

    @property
    def ends(self) -> str:
        """Say how the ends are treated, where that is alike; else empty."""
        told = {piece["ends"] for piece in self.pieces}
        return next(iter(told)) if len(told) == 1 else ""

    @property
    def has_orders(self) -> bool:
        """Tell whether any piece was ordered with a length."""
        return any(piece["tolerance"] for piece in self.pieces)

    @property
    def has_tags(self) -> bool:
        """Tell whether any piece bears a tag."""
        return any(piece["tags"] for piece in self.pieces)

    @property
    def columns(self) -> int:
        """Count the columns of the table: piece, length and metres, and those that are needed."""
        optional = (self.has_orders, not self.is_of_mill_reel, not self.ends, self.has_tags)
        return 3 + sum(optional)


def piece_groups(pieces: Iterable[Facts]) -> tuple[PieceGroup, ...]:
    """Put pieces of one rope, reel and document together, groups and pieces in their order."""
    groups: dict[Any, list[Facts]] = {}
    for piece in pieces:
        groups.setdefault(_alike(piece), []).append(piece)
    return tuple(PieceGroup(tuple(group)) for group in groups.values())


def _alike(piece: Facts) -> tuple[object, ...]:
    return (
        piece["designation"],
        piece["reel"],
        piece["mill_stretch"]["reel"],
        _values(piece["heats"], "number"),
        _values(piece["mill_documents"], "kind", "number"),
    )


def _values(rows: Sequence[Facts], *names: str) -> tuple[object, ...]:
    return tuple(row[name] for row in rows for name in names)
