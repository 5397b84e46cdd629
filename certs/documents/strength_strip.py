"""Decides how the strengths of the wires of a rope are drawn against the band of their grade.

Each wire is a mark over its number, in the order of the record; what lies outside differs by its
shape as well as by its colour. Which wires lie outside is decided by the rules. The same facts in
words: `describe_strip`, and the table that a page shows beside it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from inventory.documents.scale import Scale, plain, round_step, round_ticks
from inventory.documents.svg import (
    INK,
    PAPER,
    SOFT,
    TINT,
    WARM,
    Drawing,
    Spoken,
    drawing,
    element,
    text,
)

_LEFT, _RIGHT, _TOP, _BOTTOM = 64.0, 16.0, 30.0, 58.0
_MARK = 5.0
_APART = 130


@dataclass(frozen=True, slots=True)
class StripWire:
    """A wire by its number: strength in N/mm2, and its band where one is held and it is judged."""

    number: int
    strength: Decimal
    lower: Decimal | None = None
    upper: Decimal | None = None

    @property
    def is_outside(self) -> bool:
        """Whether it lies outside its band."""
        if self.lower is None or self.upper is None:
            return False
        return not self.lower <= self.strength <= self.upper


def draw_strengths(
    *, wires: Sequence[StripWire], title: str, width: int = 860, height: int = 310
) -> Drawing:
    """Draw the strengths; width and height in user units. There must be at least one wire."""
    across = Scale(0.5, len(wires) + 0.5, _LEFT, width - _RIGHT)
    up = _strengths(wires, height=height)
    return drawing(
        width=width,
        height=height,
        spoken=Spoken("strengths", title, describe_strip(wires)),
        parts=[
            *_bands(wires, across, up),
            *_axes(wires, across, up),
            *(_mark(place, wire, across, up) for place, wire in enumerate(wires, 1)),
            *_legend(wires, up),
        ],
    )


def describe_strip(wires: Sequence[StripWire]) -> str:
    """Say in two sentences what the drawing shows."""
    low, high = (pick(wire.strength for wire in wires) for pick in (min, max))
    outside = [str(wire.number) for wire in wires if wire.is_outside]
    told = f"Outside their band: wire {', '.join(outside)}." if outside else "None lies outside."
    return f"{len(wires)} wires from {low:.0f} to {high:.0f} N/mm². {told}"


def _strengths(wires: Sequence[StripWire], *, height: int) -> Scale:
    """Choose a scale that holds every strength and every limit."""
    values = [float(wire.strength) for wire in wires]
    values += [float(one) for wire in wires for one in (wire.lower, wire.upper) if one is not None]
    low, high = min(values), max(values)
    step = round_step(max(high - low, 50.0) * 1.2, at_most=6)
    return Scale(
        (low - step * 0.2) // step * step,
        -(-(high + step * 0.2) // step) * step,
        height - _BOTTOM,
        _TOP,
    )


def _bands(wires: Sequence[StripWire], across: Scale, up: Scale) -> Iterator[str]:
    """Yield a ground for each run of wires of one band, with its limits at the left."""
    start = 0
    for end in range(1, len(wires) + 1):
        if end < len(wires) and _band(wires[end]) == _band(wires[start]):
            continue
        lower, upper = _band(wires[start])
        if lower is not None and upper is not None:
            yield from _ground((start + 0.5, end + 0.5), (lower, upper), across, up)
        start = end


def _ground(
    span: tuple[float, float], band: tuple[Decimal, Decimal], across: Scale, up: Scale
) -> Iterator[str]:
    left, right = across.at(span[0]), across.at(span[1])
    low, high = up.at(float(band[0])), up.at(float(band[1]))
    yield element(
        "rect",
        {
            "class": "draw-tint",
            "x": left,
            "y": high,
            "width": right - left,
            "height": low - high,
            "fill": TINT,
        },
    )
    for limit, y, below in ((band[0], low, 14), (band[1], high, -5)):
        look: dict[str, str | float] = {"class": "draw-soft", "fill": SOFT, "font-size": 12}
        yield element(
            "path",
            {"class": "draw-soft-line", "d": f"M{left:.2f} {y:.2f}H{right:.2f}", "stroke": SOFT},
        )
        yield text(f"{limit:.0f}", {**look, "x": left + 4, "y": y + below})


def _band(wire: StripWire) -> tuple[Decimal | None, Decimal | None]:
    return wire.lower, wire.upper


def _axes(wires: Sequence[StripWire], across: Scale, up: Scale) -> Iterator[str]:
    """Yield both axes with round values."""
    frame = f"M{across.start:.2f} {up.end:.2f}V{up.start:.2f}H{across.end:.2f}"
    yield element("path", {"class": "draw-line", "d": frame, "fill": "none", "stroke": INK})
    for tick in round_ticks(up.low, up.high, at_most=8):
        yield text(plain(tick), {"x": across.start - 8, "y": up.at(tick) + 4, "text-anchor": "end"})
    every = -(-len(wires) // 24)
    for place, wire in enumerate(wires, 1):
        if (place - 1) % every == 0:
            at: dict[str, str | float] = {
                "x": across.at(place),
                "y": up.start + 18,
                "text-anchor": "middle",
            }
            yield text(str(wire.number), at)
    soft: dict[str, str | float] = {"class": "draw-soft", "fill": SOFT, "font-size": 12}
    yield text("Strength in N/mm²", {**soft, "x": 6, "y": 14})
    yield text(
        "Number of the wire", {**soft, "x": across.end, "y": up.start + 34, "text-anchor": "end"}
    )


def _mark(place: int, wire: StripWire, across: Scale, up: Scale) -> str:
    """Give a disc inside the band, a diamond outside, a ring where nothing is judged."""
    x, y = across.at(place), up.at(float(wire.strength))
    if wire.is_outside:
        return _diamond(x, y)
    return _disc(x, y, is_judged=wire.lower is not None)


def _diamond(x: float, y: float) -> str:
    r = _MARK + 1.5
    path = f"M{x:.2f} {y - r:.2f}l{r} {r} {-r} {r} {-r} {-r}z"
    return element("path", {"class": "draw-warm", "d": path, "fill": WARM, "stroke": PAPER})


def _disc(x: float, y: float, *, is_judged: bool) -> str:
    look: dict[str, str | float] = {"cx": x, "cy": y, "r": _MARK - 0.5, "stroke-width": 1.6}
    if is_judged:
        return element("circle", {**look, "class": "draw-ink", "fill": INK, "stroke": INK})
    return element(
        "circle", {**look, "class": "draw-paper draw-line", "fill": PAPER, "stroke": INK}
    )


def _legend(wires: Sequence[StripWire], up: Scale) -> Iterator[str]:
    """Yield the shapes that occur, each with its word."""
    x, y = _LEFT + 6, up.start + 46
    shown = (
        ("inside its band", _disc(x, y - 4, is_judged=True), any(map(_is_inside, wires))),
        ("not judged", _disc(x + _APART, y - 4, is_judged=False), not all(map(_is_judged, wires))),
        ("outside its band", _diamond(x + 2 * _APART, y - 4), any(w.is_outside for w in wires)),
    )
    for column, (word, mark, occurs) in enumerate(shown):
        if occurs:
            yield mark
            yield text(word, {"x": x + column * _APART + 12, "y": y, "font-size": 12})


def _is_judged(wire: StripWire) -> bool:
    return wire.lower is not None


def _is_inside(wire: StripWire) -> bool:
    return _is_judged(wire) and not wire.is_outside
