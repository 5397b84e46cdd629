"""Decides how the results of one maker are drawn: each test in the order of time, and the limits.

What counts, and where the limits lie, is judged by the rules. Every kind of result has a shape of
its own; a result beyond the limits has a ring. The same facts in words stand in a table beside.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from certs.documents.control_marks import MARKS, WORDS, ring
from certs.rules.maker_record import Standing
from inventory.documents.scale import Scale, plain, round_ticks
from inventory.documents.svg import (
    ACCENT,
    INK,
    SOFT,
    Drawing,
    Spoken,
    drawing,
    element,
    linked,
    text,
    text_width,
)

LEAST_WIDTH = 480
"""In user units; a record of few tests is as wide as this."""

_LEFT, _RIGHT, _TOP, _FIELD = 44.0, 98.0, 26.0, 190.0
_EACH_POINT = 24.0
_LEGEND_LINE, _LEGEND_TEXT, _SMALL = 20.0, 20.0, 12
_APART = 13.0


@dataclass(frozen=True, slots=True)
class ChartPoint:
    """One test: its code, day, ratio, how it stands, and where its page is."""

    code: str
    day: str
    ratio: float
    standing: Standing
    is_outside: bool = False
    href: str = ""


@dataclass(frozen=True, slots=True)
class ChartLines:
    """Mean and limits as ratios."""

    mean: float
    lower: float
    upper: float


def draw_control_chart(
    *,
    points: Sequence[ChartPoint],
    lines: ChartLines | None,
    title: str,
    prefix: str = "control-chart",
) -> Drawing:
    """Draw the tests in the order given; without lines only the required force is marked."""
    width = max(LEAST_WIDTH, _LEFT + _RIGHT + _EACH_POINT * len(points))
    legend = list(_legend(points, width=width))
    parts: list[str] = []
    if points:
        field = Scale(0.5, len(points) + 0.5, _LEFT, width - _RIGHT)
        ratio = _ratios(points, lines)
        parts += [*_axes(field, ratio, points), *_levels(field, ratio, lines)]
        parts += [_mark(place, point, field, ratio) for place, point in enumerate(points, 1)]
    else:
        parts.append(text("No tests recorded", {"x": _LEFT, "y": _TOP}))
    bottom = _TOP + _FIELD + 40 if points else _TOP * 2
    rows = 1 + max((row for row, _, _ in legend), default=-1)
    for row, x, standing in legend:
        parts += _legend_entry(x, bottom + row * _LEGEND_LINE, standing)
    return drawing(
        width=width,
        height=bottom + rows * _LEGEND_LINE,
        spoken=Spoken(prefix, title, describe_chart(points=points, lines=lines)),
        parts=parts,
    )


def describe_chart(*, points: Sequence[ChartPoint], lines: ChartLines | None) -> str:
    """Say in a few sentences what the chart shows."""
    if not points:
        return "No tests recorded."
    low, high = min(p.ratio for p in points), max(p.ratio for p in points)
    said = [
        (
            f"{len(points)} tests from {points[0].day} to {points[-1].day}, in the order of time,"
            f" between {low:.3f} and {high:.3f} of the required force."
        )
    ]
    if lines:
        said.append(f"Mean {lines.mean:.3f}, limits {lines.lower:.3f} and {lines.upper:.3f}.")
    outside = [point.code for point in points if point.is_outside]
    if outside:
        said.append(f"Beyond the limits: {', '.join(outside)}.")
    for standing in Standing:
        if standing is Standing.MEETS:
            continue
        codes = [point.code for point in points if point.standing is standing]
        if codes:
            said.append(f"{WORDS[standing].capitalize()}: {', '.join(codes)}.")
    return " ".join(said)


def _ratios(points: Sequence[ChartPoint], lines: ChartLines | None) -> Scale:
    shown = [1.0, *(point.ratio for point in points)]
    shown += [lines.lower, lines.upper] if lines else []
    low, high = min(shown), max(shown)
    room = max((high - low) * 0.08, 0.01)
    return Scale(low - room, high + room, _TOP + _FIELD, _TOP)


def _axes(field: Scale, ratio: Scale, points: Sequence[ChartPoint]) -> Iterator[str]:
    ticks = round_ticks(ratio.low, ratio.high, at_most=6)
    grid = "".join(f"M{field.start:.2f} {ratio.at(t):.2f}H{field.end:.2f}" for t in ticks)
    yield element(
        "path", {"class": "draw-grid", "d": grid, "stroke": "#d5d9dd", "stroke-width": 0.6}
    )
    axes = f"M{field.start:.2f} {ratio.end:.2f}V{ratio.start:.2f}H{field.end:.2f}"
    yield element("path", {"class": "draw-line", "d": axes, "fill": "none", "stroke": INK})
    for tick in ticks:
        place: dict[str, str | float] = {"x": field.start - 6, "y": ratio.at(tick) + 4}
        yield text(plain(tick), {**place, "text-anchor": "end", "font-size": _SMALL})
    soft: dict[str, str | float] = {"class": "draw-soft", "fill": SOFT, "font-size": _SMALL}
    yield text("Measured over required force", {**soft, "x": 6, "y": 12})
    below = ratio.start + 16
    yield text(points[0].day, {**soft, "x": field.start, "y": below})
    if points[-1].day != points[0].day:
        yield text(points[-1].day, {**soft, "x": field.end, "y": below, "text-anchor": "end"})


def _levels(field: Scale, ratio: Scale, lines: ChartLines | None) -> Iterator[str]:
    """Yield the required force, and mean and limits where there are any, each named at its end."""
    levels = [(1.0, "required", "", True)]
    if lines:
        levels += [
            (lines.lower, "lower", "6 4", False),
            (lines.mean, "mean", "", False),
            (lines.upper, "upper", "6 4", False),
        ]
    lowest_free = ratio.start + _APART
    for value, word, dashes, is_required in sorted(levels):
        y = ratio.at(value)
        colour, name = (INK, "draw-line") if is_required else (ACCENT, "draw-accent-line")
        line: dict[str, str | float] = {
            "class": name,
            "d": f"M{field.start:.2f} {y:.2f}H{field.end:.2f}",
            "stroke": colour,
            "stroke-width": 2 if is_required else 1.2,
            **({"stroke-dasharray": dashes} if dashes else {}),
        }
        yield element("path", line)
        baseline = min(y + 4, lowest_free - _APART)
        lowest_free = baseline
        figure = "1" if is_required else f"{value:.3f}"
        yield text(
            f"{word} {figure}",
            {
                "class": "draw-ink" if is_required else "draw-accent",
                "fill": colour,
                "font-size": _SMALL,
                "x": field.end + 6,
                "y": baseline,
            },
        )


def _mark(place: int, point: ChartPoint, field: Scale, ratio: Scale) -> str:
    x, y = field.at(place), ratio.at(point.ratio)
    shape = MARKS[point.standing](x, y) + (ring(x, y) if point.is_outside else "")
    said = f"{point.code}, {point.day}: {point.ratio:.4f}, {WORDS[point.standing]}"
    return linked(shape, href=point.href, title=said)


def _legend(points: Sequence[ChartPoint], *, width: float) -> Iterator[tuple[int, float, Standing]]:
    """Yield row, place and kind of each shape that occurs."""
    row, x = 0, _LEFT
    for standing in Standing:
        if all(point.standing is not standing for point in points):
            continue
        needed = _LEGEND_TEXT + text_width(WORDS[standing], size=_SMALL) + 14
        if x > _LEFT and x + needed > width:
            row, x = row + 1, _LEFT
        yield row, x, standing
        x += needed


def _legend_entry(x: float, y: float, standing: Standing) -> Iterator[str]:
    # An arrow stands on its foot, the others about their middle.
    yield MARKS[standing](x, y + 1 if standing is Standing.LOWER_BOUND else y - 4)
    look: dict[str, str | float] = {"class": "draw-soft", "fill": SOFT, "font-size": _SMALL}
    yield text(WORDS[standing], {**look, "x": x + _LEGEND_TEXT - 8, "y": y})
