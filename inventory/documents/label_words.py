"""Decides how large the words of a label are set, and which of them there is room for.

What it is stands first, its code is always there; what to compare, the caution and where to type
the code follow as far as they fit. Sizes are common practice, no source: nothing below 5 pt.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from inventory.documents.svg import text_width

UM_PER_POINT: Final = 352.8
LEADING: Final = 1.18
GAP_EMS: Final = 0.2
_LARGEST_PT: Final = 28.0
_LEAST_PT: Final = 6.0
_SMALLEST_PT: Final = 5.2
_MONO_EMS: Final = 0.66
"""How wide each sign of the typeface for codes is: 0.65, and a little to be safe."""


@dataclass(frozen=True, slots=True)
class Room:
    """A part of a label, in µm from its upper left corner."""

    left_um: int
    top_um: int
    width_um: int
    height_um: int


@dataclass(frozen=True, slots=True)
class Said:
    """What a label says; `code` is in groups, `host` is where it may be typed."""

    title: str
    lines: tuple[str, ...]
    code: str
    caution: str
    host: str


@dataclass(frozen=True, slots=True)
class SetLine:
    """One line as it is set; `look` is the class that the style knows."""

    text: str
    size_pt: float
    look: str


@dataclass(frozen=True, slots=True)
class Words:
    """The lines of a label and the room they stand in, in mm as text."""

    left: str
    top: str
    width: str
    is_centred: bool
    lines: tuple[SetLine, ...]


def words_in(room: Room, said: Said, *, is_centred: bool) -> Words:
    """Set the words of a label into its room: as large as all of them fit.

    A line to compare is broken only where it fits whole at no size. Where they fit at no size,
    the last are left out: where to type, the caution, what to compare; title and code never.
    """
    width, height = room.width_um / UM_PER_POINT, room.height_um / UM_PER_POINT
    told = said
    while True:
        for may_break in (False, True):
            for lines in _sizes(told, width=width):
                is_broken = sum(line.look == "line" for line in lines) > len(told.lines)
                if is_broken <= may_break and _fits(lines, width=width, height=height):
                    return _words(room, lines, is_centred=is_centred)
        shorter = _shortened(told)
        if shorter == told:
            smallest = tuple(_set(told, size=_LEAST_PT, width=width))
            return _words(room, smallest, is_centred=is_centred)
        told = shorter


def _sizes(said: Said, *, width: float) -> Iterator[tuple[SetLine, ...]]:
    size = _LARGEST_PT
    while size >= _LEAST_PT:
        yield tuple(_set(said, size=size, width=width))
        size -= 0.5


def _words(room: Room, lines: tuple[SetLine, ...], *, is_centred: bool) -> Words:
    spare = room.height_um - round(_height(lines) * UM_PER_POINT)
    top = room.top_um + (0 if is_centred else max(spare, 0) // 2)
    return Words(
        left=f"{room.left_um / 1000:.3f}",
        top=f"{top / 1000:.3f}",
        width=f"{room.width_um / 1000:.3f}",
        is_centred=is_centred,
        lines=lines,
    )


def _shortened(said: Said) -> Said:
    if said.host:
        return replace(said, host="")
    if said.caution:
        return replace(said, caution="")
    return replace(said, lines=said.lines[:-1])


def _set(said: Said, *, size: float, width: float) -> Iterator[SetLine]:
    yield SetLine(said.title, size, "title")
    for line in said.lines:
        yield from _wrapped(line, look="line", size=max(size * 0.66, _LEAST_PT), width=width)
    yield from _code(said.code, size=max(size * 0.66, _LEAST_PT), width=width)
    small = max(size * 0.5, _SMALLEST_PT)
    if said.host:
        yield from _wrapped(f"or type it at {said.host}/t/", look="host", size=small, width=width)
    yield from _wrapped(said.caution, look="caution", size=small, width=width)


def _code(code: str, *, size: float, width: float) -> Iterator[SetLine]:
    """Set the code on one line, a little smaller if need be, or on two between its groups."""
    one = width / len(code) / _MONO_EMS
    if one >= _SMALLEST_PT:
        yield SetLine(code, min(size, one), "code")
        return
    middle = code.find("-", len(code) // 2) + 1
    for half in (code[:middle], code[middle:]):
        yield SetLine(half, min(size, width / middle / _MONO_EMS), "code")


def _wrapped(words: str, *, look: str, size: float, width: float) -> Iterator[SetLine]:
    line = ""
    for word in words.split():
        longer = f"{line} {word}".strip()
        if line and text_width(longer, size=size) > width:
            yield SetLine(line, size, look)
            longer = word
        line = longer
    if line:
        yield SetLine(line, size, look)


def _height(lines: tuple[SetLine, ...]) -> float:
    """Give the height of lines in points; a new kind of line stands a little apart."""
    apart = sum(
        line.size_pt * GAP_EMS for before, line in pairwise(lines) if before.look != line.look
    )
    return apart + sum(line.size_pt * LEADING for line in lines)


def _fits(lines: tuple[SetLine, ...], *, width: float, height: float) -> bool:
    return _height(lines) <= height and all(
        line.look == "code" or text_width(line.text, size=line.size_pt) <= width for line in lines
    )
