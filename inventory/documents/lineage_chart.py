"""Decides how a lineage is drawn: from the heats on the left to the customers on the right.

What belongs to the lineage is said by the caller; where it stands is decided by layered_layout.
The same facts in words, never folded: lineage_table.
"""

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import pairwise

from inventory.documents.layered_layout import Layout, lay_out
from inventory.documents.lineage_card import CARD_HEIGHT, CARD_WIDTH, draw_card
from inventory.documents.lineage_nodes import (
    Lineage,
    LineageEdge,
    LineageNode,
    fold_siblings,
)
from inventory.documents.svg import ACCENT, SOFT, Drawing, Spoken, drawing, element, shorten, text

_EDGE = 8.0
_ALLEY = 94.0
_PITCH = CARD_HEIGHT + 10.0
_MOST_LABELS = 3
_SIZE = 10.0


def draw_lineage(
    *,
    nodes: Sequence[LineageNode],
    edges: Sequence[LineageEdge],
    title: str = "Where it came from and where it went",
    prefix: str = "lineage",
) -> Drawing:
    """Draw nodes as cards in columns, and edges as lines between them.

    Raises:
        ValueError: a key is used twice, an edge has no end, or the edges run in a circle.

    """
    told = Lineage(tuple(nodes), tuple(edges))
    drawn = fold_siblings(told)
    layout = lay_out([node.key for node in drawn.nodes], targets=drawn.targets())
    depth = max(layout.height.values(), default=0.0)
    ways = [y for way in layout.ways.values() for _, y in way]
    return drawing(
        width=2 * _EDGE + layout.layers * (CARD_WIDTH + _ALLEY) - _ALLEY,
        height=2 * _EDGE + max([depth, *ways]) * _PITCH + CARD_HEIGHT,
        spoken=Spoken(prefix, title, _description(told)),
        parts=[*_edges(drawn, layout), *_cards(drawn, layout)],
    )


def _description(lineage: Lineage) -> str:
    """Count what is in the lineage, kind by kind, and what of it is under hold."""
    counts: dict[str, int] = {}
    for node in lineage.nodes:
        counts[node.kind] = counts.get(node.kind, 0) + 1
    listed = ", ".join(f"{kind}: {count}" for kind, count in counts.items()) or "nothing"
    held = [node.label for node in lineage.nodes if node.is_held]
    hold = f" Under hold, do not use: {', '.join(held)}." if held else ""
    return f"Read from left to right: {listed}.{hold}"


def _left(layer: int) -> float:
    return _EDGE + layer * (CARD_WIDTH + _ALLEY)


def _middle(height: float) -> float:
    return _EDGE + CARD_HEIGHT / 2 + height * _PITCH


def _cards(lineage: Lineage, layout: Layout) -> Iterator[str]:
    for node in lineage.nodes:
        top = _middle(layout.height[node.key]) - CARD_HEIGHT / 2
        yield draw_card(node, left=_left(layout.layer[node.key]), top=top)


def _edges(lineage: Lineage, layout: Layout) -> Iterator[str]:
    """Yield the lines; several into one card arrive one below the other."""
    lit = {node.key for node in lineage.nodes if node.is_lit}
    arriving: dict[str, list[LineageEdge]] = {}
    for edge in lineage.edges:
        arriving.setdefault(edge.target, []).append(edge)
    for target, edges in arriving.items():
        ordered = sorted(edges, key=partial(_height_before_end, layout))
        for index, edge in enumerate(ordered):
            port = (index + 1) / (len(ordered) + 1) - 0.5
            y = _middle(layout.height[target]) + port * (CARD_HEIGHT - 6)
            is_lit = edge.source in lit or target in lit
            yield _line(layout.ways[edge.source, target], y, is_lit=is_lit)
            if edge.label and len(ordered) <= _MOST_LABELS:
                yield _edge_label(edge.label, _left(layout.layer[target]) - 5, y - 3)


def _height_before_end(layout: Layout, edge: LineageEdge) -> float:
    return layout.ways[edge.source, edge.target][-2][1]


def _line(way: Sequence[tuple[int, float]], end_y: float, *, is_lit: bool) -> str:
    """Draw an edge as a line that is level in every card column and curved between them."""
    heights = [_middle(height) for _, height in way]
    heights[-1] = end_y
    path = ""
    for (layer, _), (y, next_y) in zip(way, pairwise(heights), strict=False):
        x = _left(layer) + CARD_WIDTH
        turn, end = x + _ALLEY * 0.45, x + _ALLEY
        path += (
            f"L{x:.1f} {y:.1f}C{turn:.1f} {y:.1f} {turn:.1f} {next_y:.1f} {end:.1f} {next_y:.1f}"
        )
    look: dict[str, str | float] = {
        "class": "draw-accent-line" if is_lit else "draw-soft-line",
        "d": "M" + path[1:],
        "fill": "none",
        "stroke": ACCENT if is_lit else SOFT,
        "stroke-width": 1.8 if is_lit else 0.9,
    }
    return element("path", look)


def _edge_label(label: str, right: float, y: float) -> str:
    place: dict[str, str | float] = {
        "class": "draw-soft",
        "x": right,
        "y": y,
        "text-anchor": "end",
        "font-size": _SIZE,
        "fill": SOFT,
    }
    return text(shorten(label, size=_SIZE, width=_ALLEY * 0.85), place)
