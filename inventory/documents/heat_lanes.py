"""Decides how heats are laid below the reel: a rope holds wires of many, so they go in lanes."""

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.documents.reel_stretches import MapHeat
from inventory.documents.scale import Scale
from inventory.documents.svg import INK, SOFT, element, linked, shorten, text, text_width

_LANE = 22.0
_SIZE = 11.0
_LEAST_WIDTH = 2.0


@dataclass(frozen=True, slots=True)
class _Band:
    """One stretch with all heats that cover just it; `start`..`end` is what it takes of a lane."""

    left: float
    right: float
    start: float
    end: float
    label: str
    spoken: str


def draw_heats(heats: Sequence[MapHeat], *, scale: Scale, top: float) -> tuple[list[str], float]:
    """Draw the heats as bands under their metres; return the parts and the height they take."""
    if not heats:
        return [], 0.0
    heading = text("Heats", {"x": scale.start, "y": top + 16, "font-size": _SIZE, "fill": SOFT})
    lane_ends: list[float] = []
    parts = [heading]
    for band in _bands(heats, scale):
        lane = next((i for i, end in enumerate(lane_ends) if end <= band.start), len(lane_ends))
        lane_ends[lane:] = [band.end, *lane_ends[lane + 1 :]]
        parts.append(linked(_draw(band, top + 27 + lane * _LANE), href="", title=band.spoken))
    return parts, 28 + len(lane_ends) * _LANE


def _bands(heats: Sequence[MapHeat], scale: Scale) -> list[_Band]:
    """Join the heats of the same metres, and put the bands in order along the reel."""
    by_span: dict[tuple[int, int], list[MapHeat]] = {}
    for heat in heats:
        by_span.setdefault((heat.from_mm, heat.to_mm), []).append(heat)
    return [
        _band(by_span[key], scale) for key in sorted(by_span, key=lambda key: (key[0], -key[1]))
    ]


def _band(heats: Sequence[MapHeat], scale: Scale) -> _Band:
    left, right = scale.at(heats[0].from_mm), scale.at(heats[0].to_mm)
    right = max(right, left + _LEAST_WIDTH)
    label = shorten(
        ", ".join(heat.label for heat in heats), size=_SIZE, width=scale.end - scale.start
    )
    wanted = text_width(label, size=_SIZE) + 8
    start = max(scale.start, min(left, scale.end - wanted))
    return _Band(
        left, right, start, max(right, start + wanted), label, "; ".join(h.spoken for h in heats)
    )


def _draw(band: _Band, y: float) -> str:
    bracket = f"M{band.left:.2f} {y - 5:.2f}v5H{band.right:.2f}v-5"
    line: dict[str, str | float] = {
        "class": "draw-line",
        "d": bracket,
        "fill": "none",
        "stroke": INK,
        "stroke-width": 1,
    }
    place: dict[str, str | float] = {"x": band.start + 4, "y": y + 11.5, "font-size": _SIZE}
    return element("path", line) + text(band.label, place)
