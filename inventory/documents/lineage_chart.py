"""Decides how a lineage is drawn: from the heats on the left to the customers on the right.

What belongs to the lineage is said by the caller; where it stands is decided by layered_layout.
The same facts in words, never folded: lineage_table.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import accumulate, pairwise

from inventory.documents.layered_layout import Layout, lay_out
from inventory.documents.lineage_card import CARD_HEIGHT, CARD_WIDTH, draw_card
from inventory.documents.lineage_nodes import (
    Lineage,
    LineageEdge,
    LineageNode,
    fold_siblings,
)
from inventory.documents.lineage_walk import (
    DRAWN_WHOLE,
    Folding,
    in_reading_order,
    walks,
    words_on_cards,
)
from inventory.documents.svg import (
    ACCENT,
    PAPER,
    SOFT,
    Drawing,
    Spoken,
    drawing,
    element,
    shorten,
    text,
    text_width,
)

_EDGE = 8.0
_ALLEY, _TIGHT_ALLEY = 56.0, 34.0
_TIGHT_CARD = 138.0
_WIDEST_ALLEY = 170.0
_BESIDE_LABEL = 16.0
_PITCH = CARD_HEIGHT + 10.0
_MOST_LABELS = 3
_SIZE = 11.0


@dataclass(frozen=True, slots=True)
class _Columns:
    """Where the columns of cards stand, how wide a card is, and the alley after each column."""

    lefts: tuple[float, ...]
    alleys: tuple[float, ...]
    card: float = CARD_WIDTH

    @classmethod
    def beside(cls, alleys: Sequence[float], *, card: float = CARD_WIDTH) -> "_Columns":
        """Stand columns with these alleys between them."""
        steps = accumulate(alleys, lambda left, alley: left + card + alley, initial=_EDGE)
        return cls(tuple(steps), tuple(alleys), card)

    @property
    def width(self) -> float:
        """Return the width of the whole drawing."""
        return self.lefts[-1] + self.card + _EDGE


def draw_lineage(
    *,
    nodes: Sequence[LineageNode],
    edges: Sequence[LineageEdge],
    title: str = "Where it came from and where it went",
    prefix: str = "lineage",
    folding: Folding = DRAWN_WHOLE,
    room: float | None = None,
) -> Drawing:
    """Draw nodes as cards in columns, and edges as lines between them.

    The cards stand in the document as they are read: from left to right, each column from its top.
    What would be wider than `room`, in user units, is drawn with narrower cards and alleys.

    Raises:
        ValueError: a key is used twice, an edge has no end, or the edges run in a circle.

    """
    told = Lineage(tuple(nodes), tuple(edges))
    drawn = words_on_cards(
        fold_siblings(told, most=folding.most, href=folding.href), most=_MOST_LABELS
    )
    layout = lay_out([node.key for node in drawn.nodes], targets=drawn.targets())
    depth = max(layout.height.values(), default=0.0)
    columns = _Columns.beside(_alleys(drawn, layout, least=_ALLEY))
    if room is not None and columns.width > room:
        alleys = _alleys(drawn, layout, least=_TIGHT_ALLEY)
        columns = _Columns.beside(alleys, card=_TIGHT_CARD)
    ways = [y for way in layout.ways.values() for _, y in way]
    return drawing(
        width=columns.width,
        height=2 * _EDGE + max([depth, *ways]) * _PITCH + CARD_HEIGHT,
        spoken=Spoken(prefix, title, _description(told)),
        parts=[
            *_edges(drawn, layout, columns),
            *_labels(drawn, layout, columns),
            *_cards(drawn, layout, columns),
        ],
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


def _alleys(lineage: Lineage, layout: Layout, *, least: float) -> list[float]:
    """Return the widths between columns: narrow, but wide enough for the words of an edge."""
    alleys = [least] * (layout.layers - 1)
    for edge, _ in _labelled(lineage, layout):
        before = layout.layer[edge.target] - 1
        room = text_width(edge.label, size=_SIZE) + _BESIDE_LABEL
        alleys[before] = max(alleys[before], min(room, _WIDEST_ALLEY))
    return alleys


def _middle(height: float) -> float:
    return _EDGE + CARD_HEIGHT / 2 + height * _PITCH


def _cards(lineage: Lineage, layout: Layout, columns: _Columns) -> Iterator[str]:
    ways = walks(lineage)
    for node in in_reading_order(lineage, layout):
        top = _middle(layout.height[node.key]) - CARD_HEIGHT / 2
        left = columns.lefts[layout.layer[node.key]]
        yield draw_card(node, left=left, top=top, width=columns.card, marks=ways[node.key])


def _arrivals(lineage: Lineage, layout: Layout) -> Iterator[tuple[list[LineageEdge], list[float]]]:
    """Yield the edges into each card from the top, and the heights at which they arrive."""
    arriving: dict[str, list[LineageEdge]] = {}
    for edge in lineage.edges:
        arriving.setdefault(edge.target, []).append(edge)
    for target, edges in arriving.items():
        ordered = sorted(edges, key=partial(_height_before_end, layout))
        ports = ((index + 1) / (len(ordered) + 1) - 0.5 for index in range(len(ordered)))
        middle = _middle(layout.height[target])
        yield ordered, [middle + port * (CARD_HEIGHT - 6) for port in ports]


def _labelled(lineage: Lineage, layout: Layout) -> Iterator[tuple[LineageEdge, float]]:
    """Yield the edges whose words are written, with the height at which each arrives."""
    for edges, heights in _arrivals(lineage, layout):
        if len(edges) <= _MOST_LABELS:
            yield from ((e, y) for e, y in zip(edges, heights, strict=True) if e.label)


def _edges(lineage: Lineage, layout: Layout, columns: _Columns) -> Iterator[str]:
    """Yield the lines; several into one card arrive one below the other."""
    lit = {node.key for node in lineage.nodes if node.is_lit}
    for edges, heights in _arrivals(lineage, layout):
        for edge, y in zip(edges, heights, strict=True):
            is_lit = edge.source in lit or edge.target in lit
            yield _line(layout.ways[edge.source, edge.target], y, columns, is_lit=is_lit)


def _labels(lineage: Lineage, layout: Layout, columns: _Columns) -> Iterator[str]:
    """Yield the words of the edges, over all lines, each beside the card where its edge ends."""
    for edge, y in _labelled(lineage, layout):
        layer = layout.layer[edge.target]
        words = shorten(edge.label, size=_SIZE, width=_WIDEST_ALLEY - _BESIDE_LABEL)
        yield _edge_label(words, columns.lefts[layer] - 5, y - 3)


def _height_before_end(layout: Layout, edge: LineageEdge) -> float:
    return layout.ways[edge.source, edge.target][-2][1]


def _line(
    way: Sequence[tuple[int, float]], end_y: float, columns: _Columns, *, is_lit: bool
) -> str:
    """Draw an edge as a line that is level in every card column and curved between them."""
    heights = [_middle(height) for _, height in way]
    heights[-1] = end_y
    path = ""
    for (layer, _), (y, next_y) in zip(way, pairwise(heights), strict=False):
        x, alley = columns.lefts[layer] + columns.card, columns.alleys[layer]
        turn, end = x + alley * 0.45, x + alley
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
        "class": "draw-soft draw-halo",
        "x": right,
        "y": y,
        "text-anchor": "end",
        "font-size": _SIZE,
        "fill": SOFT,
        # A rim in the colour of the ground, so that a line that passes does not cross the words.
        "stroke": PAPER,
        "stroke-width": 3,
        "paint-order": "stroke",
    }
    return text(label, place)
