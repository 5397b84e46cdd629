"""Decides how one stretch of a reel looks: ground, hatching, hold, outline, and its label inside.

Where it stands is left to the reel map; the legend draws its samples with the same function.
"""

from dataclasses import dataclass

from inventory.documents.hatching import Box, Hatch, hatch_path
from inventory.documents.reel_stretches import MapKind, MapStretch
from inventory.documents.svg import (
    ACCENT,
    INK,
    PAPER,
    RULE,
    SOFT,
    TINT,
    WARM,
    WARM_TINT,
    element,
    text,
    text_width,
)

LABEL_SIZE = 11.0
"""Size of the labels in user units."""

LEAST_WIDTH = 2.0
"""The width in user units below which no stretch is drawn, however short it is."""


@dataclass(frozen=True, slots=True)
class Look:
    """Ground and lines of a kind: each a class for the screen and a colour for paper."""

    ground_class: str
    ground: str
    line_class: str
    line: str
    hatch: Hatch = Hatch.NONE
    pitch: float = 6.0


LOOKS: dict[MapKind, Look] = {
    MapKind.SUPPLY: Look("draw-tint", TINT, "draw-accent-line", ACCENT),
    MapKind.SAMPLE: Look("draw-paper", PAPER, "draw-accent-line", ACCENT, Hatch.CROSSED, 7),
    MapKind.REWIND: Look("draw-paper", PAPER, "draw-accent-line", ACCENT, Hatch.LEVEL, 5),
    MapKind.SCRAP: Look("draw-paper", PAPER, "draw-soft-line", SOFT, Hatch.FALLING, 4),
    MapKind.FREE: Look("draw-paper", PAPER, "draw-rule", RULE),
    MapKind.HELD: Look("draw-warm-tint", WARM_TINT, "draw-warm-line", WARM, Hatch.RISING, 8),
}


def label_fits(label: str, *, width: float) -> bool:
    """Tell whether a label stands inside a box of that width in user units."""
    return text_width(label, size=LABEL_SIZE) + 10 <= width


def draw_stretch(piece: MapStretch, box: Box) -> str:
    """Draw one stretch into its box."""
    look, held = LOOKS[piece.kind], LOOKS[MapKind.HELD]
    parts = [
        _ground(piece, box, held if piece.is_under_hold else look),
        _lines(box, look),
    ]
    if piece.is_held and piece.kind is not MapKind.HELD:
        parts.append(_lines(box, held))
    if piece.is_lit:
        parts.append(_outline(box))
    if piece.label and label_fits(piece.label, width=box.width):
        parts.append(_plate(piece.label, box))
    return "".join(parts)


def _ground(piece: MapStretch, box: Box, edge: Look) -> str:
    look = LOOKS[piece.kind]
    return element(
        "rect",
        {
            "class": f"draw-stretch {look.ground_class} {edge.line_class}",
            "x": box.left,
            "y": box.top,
            "width": box.width,
            "height": box.bottom - box.top,
            "fill": look.ground,
            "stroke": edge.line,
            "stroke-width": 1 if box.width > 2 * LEAST_WIDTH else 0.4,
            "data-from-mm": str(piece.from_mm),
            "data-to-mm": str(piece.to_mm),
        },
    )


def _lines(box: Box, look: Look) -> str:
    path = hatch_path(box, hatch=look.hatch, pitch=look.pitch)
    if not path:
        return ""
    return element(
        "path",
        {
            "class": look.line_class,
            "d": path,
            "fill": "none",
            "stroke": look.line,
            "stroke-width": 0.7,
        },
    )


def _outline(box: Box) -> str:
    """Draw the mark of what the reader looks at: a heavy frame and a pointer below it."""
    middle = (box.left + box.right) / 2
    frame: dict[str, str | float] = {
        "class": "draw-accent-line",
        "x": box.left,
        "y": box.top - 2,
        "width": box.width,
        "height": box.bottom - box.top + 4,
        "fill": "none",
        "stroke": ACCENT,
        "stroke-width": 2.5,
    }
    y = box.bottom + 3
    pointer = f"M{middle:.2f} {y:.2f}l5 7h-10z"
    return element("rect", frame) + element(
        "path", {"class": "draw-accent", "d": pointer, "fill": ACCENT}
    )


def _plate(label: str, box: Box) -> str:
    """Draw the label on a plain plate, so that hatching never runs through letters."""
    width = text_width(label, size=LABEL_SIZE) + 6
    middle, centre = (box.left + box.right) / 2, (box.top + box.bottom) / 2
    plate: dict[str, str | float] = {
        "class": "draw-paper",
        "x": middle - width / 2,
        "y": centre - 8,
        "width": width,
        "height": 16,
        "fill": PAPER,
    }
    place: dict[str, str | float] = {
        "x": middle,
        "y": centre + 4,
        "text-anchor": "middle",
        "font-size": LABEL_SIZE,
        "fill": INK,
    }
    return element("rect", plate) + text(label, place)
