"""Decides how a lineage is drawn on a narrow screen: card below card, with lines at their left.

What comes first stands on top. Each card has one line that leads down to everything made of it.
What belongs to the lineage is said by the caller; the same for a wide screen: lineage_chart.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from inventory.documents.layered_layout import lay_out
from inventory.documents.lineage_card import CARD_HEIGHT, draw_card
from inventory.documents.lineage_nodes import Lineage, LineageEdge, LineageNode, fold_siblings
from inventory.documents.lineage_walk import DRAWN_WHOLE, Folding, in_reading_order, walks
from inventory.documents.svg import ACCENT, SOFT, Drawing, Spoken, drawing, element

_WIDTH = 340.0
_EDGE = 4.0
_LANE = 9.0
_LANES: Final = 8
_PITCH = CARD_HEIGHT + 10.0
_IN, _OUT = 15.0, 33.0
_DOT = 2.4


def draw_lineage_rail(
    *,
    nodes: Sequence[LineageNode],
    edges: Sequence[LineageEdge],
    title: str = "Where it came from and where it went",
    prefix: str = "lineage-rail",
    folding: Folding = DRAWN_WHOLE,
) -> Drawing:
    """Draw nodes as cards in one column, 340 user units wide.

    Raises:
        ValueError: a key is used twice, an edge has no end, or the edges run in a circle.

    """
    told = Lineage(tuple(nodes), tuple(edges))
    drawn = fold_siblings(told, most=folding.most, href=folding.href)
    layout = lay_out([node.key for node in drawn.nodes], targets=drawn.targets())
    ordered = in_reading_order(drawn, layout)
    row = {node.key: place for place, node in enumerate(ordered)}
    spans = _spans(drawn, row)
    lanes = _lanes(spans)
    left = _EDGE + _LANE * (max(lanes.values(), default=-1) + 1) + 8
    ways = walks(drawn)
    cards = (
        draw_card(
            _noted(node, drawn),
            left=left,
            top=_EDGE + row[node.key] * _PITCH,
            width=_WIDTH - left - _EDGE,
            marks=ways[node.key],
        )
        for node in ordered
    )
    return drawing(
        width=_WIDTH,
        height=2 * _EDGE + max(len(ordered), 1) * _PITCH - (_PITCH - CARD_HEIGHT),
        spoken=Spoken(prefix, title, _description(told)),
        parts=[*_lines(drawn, row, lanes, left=left), *cards],
    )


def _description(lineage: Lineage) -> str:
    held = [node.label for node in lineage.nodes if node.is_held]
    hold = f" Under hold, do not use: {', '.join(held)}." if held else ""
    return f"Read from top to bottom: {len(lineage.nodes)} in all.{hold}"


def _noted(node: LineageNode, lineage: Lineage) -> LineageNode:
    """Put the words of the one line that ends at a card into it, where it has none of its own.

    Those of a heat say which metres of the reel hold it, and would be read of the reel alone.
    """
    heats = {other.key for other in lineage.nodes if other.kind == "heat"}
    ending = [edge for edge in lineage.edges if edge.target == node.key and edge.label]
    labels = [edge.label for edge in ending if edge.source not in heats]
    return replace(node, note=labels[0]) if len(labels) == 1 and not node.note else node


def _spans(lineage: Lineage, row: dict[str, int]) -> dict[str, tuple[int, int]]:
    """Return of each node that leads anywhere: its row, and the row of the last it leads to."""
    return {
        key: (row[key], max(row[target] for target in targets))
        for key, targets in lineage.targets().items()
        if targets
    }


def _lanes(spans: dict[str, tuple[int, int]]) -> dict[str, int]:
    """Give each line the nearest lane that is free all its way, 0 beside the cards.

    Short lines come first and so lie inside; a crowd shares the outermost lane.
    """
    taken: list[list[tuple[int, int]]] = [[] for _ in range(_LANES)]
    lanes: dict[str, int] = {}
    for key, span in sorted(spans.items(), key=lambda item: (item[1][1] - item[1][0], item[1])):
        free = (
            lane
            for lane, used in enumerate(taken)
            if all(span[1] < first or last < span[0] for first, last in used)
        )
        lanes[key] = next(free, _LANES - 1)
        taken[lanes[key]].append(span)
    return lanes


def _lines(
    lineage: Lineage, row: dict[str, int], lanes: dict[str, int], *, left: float
) -> Iterator[str]:
    """Yield the lines; those of what the reader looks at last, so that no other hides them."""
    lit = {node.key for node in lineage.nodes if node.is_lit}
    ends = lineage.targets()
    pairs = [(key, target) for key in lanes for target in ends[key]]
    pairs.sort(key=lambda pair: bool(lit & set(pair)))
    for key, target in pairs:
        x = left - 8 - _LANE * (lanes[key] + 0.5)
        start = _EDGE + row[key] * _PITCH + _OUT
        end = _EDGE + row[target] * _PITCH + _IN
        is_lit = bool(lit & {key, target})
        path = f"M{left:.1f} {start:.1f}H{x + 4:.1f}Q{x:.1f} {start:.1f} {x:.1f} {start + 4:.1f}"
        path += f"V{end - 4:.1f}Q{x:.1f} {end:.1f} {x + 4:.1f} {end:.1f}H{left:.1f}"
        yield element(
            "path",
            {
                "class": "draw-accent-line" if is_lit else "draw-soft-line",
                "d": path,
                "fill": "none",
                "stroke": ACCENT if is_lit else SOFT,
                "stroke-width": 1.8 if is_lit else 0.9,
            },
        )
        yield _arrow(left, end, is_lit=is_lit)


def _arrow(x: float, y: float, *, is_lit: bool) -> str:
    return element(
        "path",
        {
            "class": "draw-accent" if is_lit else "draw-soft",
            "d": f"M{x:.1f} {y:.1f}l-5 -{_DOT}v{2 * _DOT}z",
            "fill": ACCENT if is_lit else SOFT,
        },
    )
