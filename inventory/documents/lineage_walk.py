"""Decides in which order the nodes of a lineage are read, and how one walks along its lines."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Final

from inventory.documents.layered_layout import Layout
from inventory.documents.lineage_nodes import MOST_SIBLINGS, Lineage, LineageNode


@dataclass(frozen=True, slots=True)
class Folding:
    """How many siblings are drawn one by one, and where the node for the others leads to."""

    most: int = MOST_SIBLINGS
    href: str = ""


DRAWN_WHOLE: Final = Folding()
"""Nothing is folded that can still be drawn."""


def in_reading_order(lineage: Lineage, layout: Layout) -> list[LineageNode]:
    """Return the nodes column by column from what comes first, each column from its top."""
    return sorted(lineage.nodes, key=lambda node: (layout.layer[node.key], layout.height[node.key]))


def words_on_cards(lineage: Lineage, *, most: int) -> Lineage:
    """Put the words of lines that fan out from one card on the cards at their ends.

    Beside so many lines that begin in one place nobody could read them; up to `most` stay.
    """
    fan = Counter(edge.source for edge in lineage.edges if edge.label)
    ends = Counter(edge.target for edge in lineage.edges)
    moved = {
        edge.target: edge.label
        for edge in lineage.edges
        if edge.label and fan[edge.source] > most and ends[edge.target] == 1
    }
    nodes = (
        replace(node, note=moved[node.key]) if node.key in moved else node for node in lineage.nodes
    )
    edges = (replace(e, label="") if e.target in moved else e for e in lineage.edges)
    return Lineage(tuple(nodes), tuple(edges))


def walks(lineage: Lineage) -> dict[str, Mapping[str, str]]:
    """Give what the link of each node says of its neighbours, by which a script walks."""
    above, below = lineage.sources(), lineage.targets()
    lit = {node.key for node in lineage.nodes if node.is_lit}
    return {
        node.key: {
            "data-key": node.key,
            **({"data-from": " ".join(above[node.key])} if above[node.key] else {}),
            **({"data-to": " ".join(below[node.key])} if below[node.key] else {}),
            **({"aria-current": "true"} if node.key in lit else {}),
        }
        for node in lineage.nodes
    }
