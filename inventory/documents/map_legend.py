"""Decides what the legend of a reel map explains: the kinds that occur in it, and nothing else."""

from collections.abc import Iterator, Sequence

from inventory.documents.hatching import Box
from inventory.documents.reel_bar import draw_stretch
from inventory.documents.reel_stretches import WORDS, MapKind, MapStretch
from inventory.documents.svg import SOFT, text, text_width

_SIZE = 11.0
_LEFT = 10.0
_ROW = 22.0
_SWATCH = 26.0


def draw_legend(
    pieces: Sequence[MapStretch], *, left_out: int, top: float, width: float
) -> tuple[list[str], float]:
    """Draw the legend under a map; return the parts and the height they take."""
    parts: list[str] = []
    x, y = _LEFT, top
    for sample, words in _entries(pieces, left_out):
        needed = (_SWATCH + 6 if sample else 0) + text_width(words, size=_SIZE) + 14
        if x > _LEFT and x + needed > width:
            x, y = _LEFT, y + _ROW
        if sample:
            parts.append(draw_stretch(sample, Box(x, y, x + _SWATCH, y + 13)))
        offset = _SWATCH + 6 if sample else 0
        place: dict[str, str | float] = {"x": x + offset, "y": y + 10.5, "font-size": _SIZE}
        parts.append(text(words, {**place, "class": "draw-soft", "fill": SOFT}))
        x += needed
    return parts, y - top + _ROW


def _entries(
    pieces: Sequence[MapStretch], left_out: int
) -> Iterator[tuple[MapStretch | None, str]]:
    for kind in MapKind:
        if any(piece.kind is kind for piece in pieces):
            yield MapStretch(0, 0, kind, ""), WORDS[kind]
    if any(piece.is_held and piece.kind is not MapKind.HELD for piece in pieces):
        held = MapStretch(0, 0, MapKind.SUPPLY, "", is_held=True)
        yield held, "left the reel, under hold: do not use"
    if any(piece.is_lit for piece in pieces):
        yield None, "heavy frame and ▲: what you are looking at"
    if left_out:
        noun = "label finds" if left_out == 1 else "labels find"
        yield None, f"{left_out} {noun} no room here; the table has every one"
