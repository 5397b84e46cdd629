"""Decides how a reel map is said in words: one row for each stretch, in order of the metres."""

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.documents.reel_stretches import MapHeat, MapStretch, metres, whole_reel


@dataclass(frozen=True, slots=True)
class ReelMapRow:
    """A stretch of the reel as texts; lengths in metres."""

    from_m: str
    to_m: str
    length_m: str
    went: str
    label: str
    heats: str
    href: str
    is_lit: bool
    is_held: bool


def reel_map_table(
    *, length_mm: int, stretches: Sequence[MapStretch], heats: Sequence[MapHeat] = ()
) -> tuple[ReelMapRow, ...]:
    """Return what `draw_reel_map` draws, complete: also what finds no room in the drawing.

    Raises:
        ValueError: a stretch lies outside the reel, or two stretches share metres.

    """
    return tuple(
        ReelMapRow(
            from_m=metres(piece.from_mm),
            to_m=metres(piece.to_mm),
            length_m=metres(piece.to_mm - piece.from_mm),
            went=piece.word,
            label=piece.label,
            heats=_heats_of(piece, heats),
            href=piece.href,
            is_lit=piece.is_lit,
            is_held=piece.is_under_hold,
        )
        for piece in whole_reel(length_mm=length_mm, stretches=stretches)
    )


def _heats_of(piece: MapStretch, heats: Sequence[MapHeat]) -> str:
    """Name the heats that share metres with a stretch, each once, in the order given."""
    names = (h.label for h in heats if h.from_mm < piece.to_mm and piece.from_mm < h.to_mm)
    return ", ".join(dict.fromkeys(names))
