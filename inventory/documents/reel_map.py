"""Decides how a reel is drawn: every metre from its free end (0, left) and where it went.

Which metres went where, which are held and which are looked at is said by the caller; metres that
nobody names are drawn as still on the reel. The same facts in words: reel_map_table.
"""

from collections.abc import Iterator, Mapping, Sequence

from inventory.documents.hatching import Box
from inventory.documents.heat_lanes import draw_heats
from inventory.documents.label_rows import Label, stack_labels
from inventory.documents.map_legend import draw_legend
from inventory.documents.reel_bar import LABEL_SIZE, LEAST_WIDTH, draw_stretch, label_fits
from inventory.documents.reel_stretches import (
    MapHeat,
    MapStretch,
    metres,
    whole_reel,
)
from inventory.documents.scale import Scale, plain, round_ticks
from inventory.documents.svg import (
    INK,
    SOFT,
    Drawing,
    Spoken,
    drawing,
    element,
    linked,
    shorten,
    text,
    text_width,
)

_EDGE = 10.0
_BAR = 40.0
_ROW = 15.0
_ROWS = 6
_LABEL_WIDTH = 130.0
_AXIS = 46.0
_BETWEEN_TICKS = 70


def draw_reel_map(
    *,
    length_mm: int,
    stretches: Sequence[MapStretch],
    heats: Sequence[MapHeat] = (),
    width: int = 960,
    title: str = "Reel map",
    prefix: str = "reel-map",
) -> Drawing:
    """Draw the reel as one bar with a metre scale, its heats and a legend; width in user units.

    Raises:
        ValueError: a stretch lies outside the reel, or two stretches share metres.

    """
    pieces = whole_reel(length_mm=length_mm, stretches=stretches)
    scale, labels = _fit_labels(pieces, length_mm=length_mm, width=width)
    rows = stack_labels(labels, rows=_ROWS)
    top = 8 + (_ROW * (max(rows.values()) + 1) + 6 if rows else 0)
    below = top + _BAR + _AXIS
    heat_parts, heat_height = draw_heats(heats, scale=scale, top=below)
    legend, legend_height = draw_legend(
        pieces, left_out=len(labels) - len(rows), top=below + heat_height + 8, width=width
    )
    return drawing(
        width=width,
        height=below + heat_height + 8 + legend_height,
        spoken=Spoken(prefix, title, describe_reel(length_mm=length_mm, pieces=pieces)),
        parts=[
            *_leaders(pieces, labels, rows, top=top),
            *_bar(pieces, scale=scale, top=top),
            *_axis(scale, length_mm=length_mm, top=top + _BAR),
            *heat_parts,
            *legend,
        ],
    )


def describe_reel(*, length_mm: int, pieces: Sequence[MapStretch]) -> str:
    """Say in one sentence how the metres of a reel add up."""
    sums: dict[str, int] = {}
    for piece in pieces:
        sums[piece.word] = sums.get(piece.word, 0) + piece.to_mm - piece.from_mm
    ordered = sorted(sums.items(), key=lambda item: -item[1])
    shares = "; ".join(f"{metres(total)} m {word}" for word, total in ordered)
    return f"A reel of {metres(length_mm)} m, from its free end: {shares}."


def _fit_labels(
    pieces: Sequence[MapStretch], *, length_mm: int, width: float
) -> tuple[Scale, list[Label]]:
    """Choose the scale so that the labels above the bar end inside the drawing."""
    loose = Scale(0, length_mm, _EDGE, width - _EDGE)
    overhang = max(
        (label.x + label.width - loose.end for label in _labels(pieces, loose)), default=0.0
    )
    scale = Scale(0, length_mm, _EDGE, loose.end - max(overhang, 0.0))
    return scale, _labels(pieces, scale)


def _labels(pieces: Sequence[MapStretch], scale: Scale) -> list[Label]:
    """Return the labels that find no room inside their stretch, the last of them too."""
    return [
        Label(
            key=index,
            x=(scale.at(piece.from_mm) + scale.at(piece.to_mm)) / 2,
            width=min(text_width(piece.label, size=LABEL_SIZE) + 4, _LABEL_WIDTH),
            is_pressing=piece.is_lit or piece.is_under_hold,
        )
        for index, piece in enumerate(pieces)
        if piece.label
        and not label_fits(piece.label, width=scale.at(piece.to_mm) - scale.at(piece.from_mm))
    ]


def _leaders(
    pieces: Sequence[MapStretch],
    labels: Sequence[Label],
    rows: Mapping[int, int],
    *,
    top: float,
) -> Iterator[str]:
    """Yield a leader line and its label for each stretch that carries its label above the bar."""
    for label in labels:
        if label.key not in rows:
            continue
        piece = pieces[label.key]
        y = top - 6 - rows[label.key] * _ROW
        line: dict[str, str | float] = {
            "class": "draw-soft-line",
            "d": f"M{label.x:.2f} {top:.2f}V{y - 10:.2f}",
            "stroke": SOFT,
            "stroke-width": 0.7,
        }
        weight = "700" if label.is_pressing else "400"
        words = shorten(piece.label, size=LABEL_SIZE, width=_LABEL_WIDTH)
        yield element("path", line) + text(
            words, {"x": label.x + 3, "y": y, "font-size": LABEL_SIZE, "font-weight": weight}
        )


def _bar(pieces: Sequence[MapStretch], *, scale: Scale, top: float) -> Iterator[str]:
    """Yield the stretches; the narrow and the lit last, so that no neighbour hides them."""
    boxes = [(piece, _box(piece, scale=scale, top=top)) for piece in pieces]
    boxes.sort(key=lambda pair: (pair[0].is_lit, pair[1].width <= LEAST_WIDTH))
    for piece, box in boxes:
        yield linked(draw_stretch(piece, box), href=piece.href, title=piece.spoken)


def _box(piece: MapStretch, *, scale: Scale, top: float) -> Box:
    """Return the rectangle of a stretch: to scale, unless that would make it vanish."""
    left, right = scale.at(piece.from_mm), scale.at(piece.to_mm)
    if right - left < LEAST_WIDTH:
        right = min(left + LEAST_WIDTH, scale.end)
        left = right - LEAST_WIDTH
    return Box(left, top, right, top + _BAR)


def _axis(scale: Scale, *, length_mm: int, top: float) -> Iterator[str]:
    """Yield the metre scale: round metres, and in words which end is which."""
    at_most = max(int((scale.end - scale.start) / _BETWEEN_TICKS), 2)
    ticks = round_ticks(0, length_mm / 1000, at_most=at_most)
    y = top + 12
    marks = "".join(f"M{scale.at(tick * 1000):.2f} {y:.2f}v5" for tick in ticks)
    line = f"M{scale.start:.2f} {y:.2f}H{scale.end:.2f}{marks}"
    yield element("path", {"class": "draw-line", "d": line, "fill": "none", "stroke": INK})
    for tick in ticks:
        x = scale.at(tick * 1000)
        # A number at either end stays inside the drawing.
        if tick == 0:
            anchor, x = "start", x - 2
        else:
            anchor = "end" if scale.end - x < _EDGE else "middle"
        yield text(plain(tick), {"x": x, "y": y + 17, "text-anchor": anchor})
    small: dict[str, str | float] = {"class": "draw-soft", "fill": SOFT, "font-size": 11}
    yield text("free end, metre 0", {**small, "x": scale.start - 2, "y": y + 32})
    yield text(
        f"inner end, {metres(length_mm)} m",
        {**small, "x": scale.end, "y": y + 32, "text-anchor": "end"},
    )
