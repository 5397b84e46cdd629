"""Decides how a lineage is said in words: one row for each node, never folded."""

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.documents.lineage_nodes import Lineage, LineageEdge, LineageNode


@dataclass(frozen=True, slots=True)
class LineageRow:
    """A node with what it came from and what came from it, as texts."""

    kind: str
    label: str
    note: str
    href: str
    comes_from: tuple[str, ...]
    leads_to: tuple[str, ...]
    is_held: bool
    is_lit: bool


def lineage_table(
    *, nodes: Sequence[LineageNode], edges: Sequence[LineageEdge]
) -> tuple[LineageRow, ...]:
    """Return what `draw_lineage` draws, complete and in the order given.

    Raises:
        ValueError: a key is used twice, or an edge has no end.

    """
    lineage = Lineage(tuple(nodes), tuple(edges))
    names = {node.key: f"{node.kind} {node.label}" for node in nodes}
    above: dict[str, list[str]] = {node.key: [] for node in nodes}
    below: dict[str, list[str]] = {node.key: [] for node in nodes}
    for edge in edges:
        part = f" ({edge.label})" if edge.label else ""
        above[edge.target].append(names[edge.source] + part)
        below[edge.source].append(names[edge.target] + part)
    return tuple(
        LineageRow(
            kind=node.kind,
            label=node.label,
            note=node.note,
            href=node.href,
            comes_from=tuple(above[node.key]),
            leads_to=tuple(below[node.key]),
            is_held=node.is_held,
            is_lit=node.is_lit,
        )
        for node in lineage.nodes
    )
