"""Decides how areas are told apart without colour: lines, cut exactly to their rectangle.

Plain segments instead of SVG patterns, because they come out the same on screen and on paper.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from inventory.documents.svg import number


class Hatch(StrEnum):
    """The closed list of hatchings."""

    NONE = "none"
    RISING = "rising"
    FALLING = "falling"
    CROSSED = "crossed"
    LEVEL = "level"


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in user units, y downwards."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Return the width in user units."""
        return self.right - self.left


Segment = tuple[float, float, float, float]


def hatch_path(box: Box, *, hatch: Hatch, pitch: float) -> str:
    """Return the path data of a hatching inside a box, lines `pitch` user units apart.

    Lines sit at multiples of the pitch of the whole drawing, so neighbours run on seamlessly.
    """
    return "".join(
        f"M{number(x0)} {number(y0)}L{number(x1)} {number(y1)}"
        for x0, y0, x1, y1 in _segments(box, hatch=hatch, pitch=pitch)
    )


def _segments(box: Box, *, hatch: Hatch, pitch: float) -> Iterator[Segment]:
    match hatch:
        case Hatch.NONE:
            return
        case Hatch.LEVEL:
            for y in _multiples(box.top, box.bottom, pitch):
                yield (box.left, y, box.right, y)
        case Hatch.RISING:
            yield from _rising(box, pitch)
        case Hatch.FALLING:
            yield from _falling(box, pitch)
        case Hatch.CROSSED:
            yield from _rising(box, pitch)
            yield from _falling(box, pitch)


def _multiples(low: float, high: float, pitch: float) -> Iterator[float]:
    """Yield the multiples of the pitch strictly between two values."""
    index = math.floor(low / pitch) + 1
    while index * pitch < high:
        yield index * pitch
        index += 1


def _rising(box: Box, pitch: float) -> Iterator[Segment]:
    """Yield the lines x + y = c, which rise to the right since y counts downwards."""
    for c in _multiples(box.left + box.top, box.right + box.bottom, pitch):
        x0, x1 = max(box.left, c - box.bottom), min(box.right, c - box.top)
        yield (x0, c - x0, x1, c - x1)


def _falling(box: Box, pitch: float) -> Iterator[Segment]:
    """Yield the lines x - y = c."""
    for c in _multiples(box.left - box.bottom, box.right - box.top, pitch):
        x0, x1 = max(box.left, c + box.top), min(box.right, c + box.bottom)
        yield (x0, x0 - c, x1, x1 - c)
