"""Decides what a lineage chart is told, and folds a crowd of siblings into one node.

Nothing is lost by folding: the table beside the chart is made from what was told.
"""

from collections.abc import Sequence
from dataclasses import dataclass

MOST_SIBLINGS = 40
"""As many nodes of one kind with the same sources are drawn one by one."""


@dataclass(frozen=True, slots=True)
class LineageNode:
    """Something that exists or is claimed; `key` names it in edges, `kind` is its word.

    `folded` is set by fold_siblings alone: how many nodes this one stands for.
    """

    key: str
    kind: str
    label: str
    note: str = ""
    href: str = ""
    is_held: bool = False
    is_lit: bool = False
    folded: int = 0

    @property
    def spoken(self) -> str:
        """Return the node as one phrase, with its hold."""
        note = f", {self.note}" if self.note else ""
        hold = ", under hold: do not use" if self.is_held else ""
        return f"{self.kind} {self.label}{note}{hold}"


@dataclass(frozen=True, slots=True)
class LineageEdge:
    """What came from what; the label says which part (metres, an end, a page)."""

    source: str
    target: str
    label: str = ""


@dataclass(frozen=True, slots=True)
class Lineage:
    """Nodes and edges whose ends all exist, each node and each pair of ends once."""

    nodes: tuple[LineageNode, ...]
    edges: tuple[LineageEdge, ...]

    def __post_init__(self) -> None:
        """Refuse what cannot be drawn.

        Raises:
            ValueError: a key stands for two nodes, or an edge names a node that is not there.

        """
        keys = {node.key for node in self.nodes}
        if len(keys) < len(self.nodes):
            message = "two nodes of a lineage share a key"
            raise ValueError(message)
        for edge in self.edges:
            if not {edge.source, edge.target} <= keys:
                message = f"no node for the edge {edge.source!r} to {edge.target!r}"
                raise ValueError(message)

    def sources(self) -> dict[str, tuple[str, ...]]:
        """Return key -> keys of what it came from."""
        found: dict[str, dict[str, None]] = {node.key: {} for node in self.nodes}
        for edge in self.edges:
            found[edge.target][edge.source] = None
        return {key: tuple(above) for key, above in found.items()}

    def targets(self) -> dict[str, tuple[str, ...]]:
        """Return key -> keys of what came from it."""
        found: dict[str, dict[str, None]] = {node.key: {} for node in self.nodes}
        for edge in self.edges:
            found[edge.source][edge.target] = None
        return {key: tuple(below) for key, below in found.items()}


def fold_siblings(lineage: Lineage, *, most: int = MOST_SIBLINGS, href: str = "") -> Lineage:
    """Fold siblings beyond `most` into one node "n more", again and again until none are left.

    That node leads to `href`, where those left out are told.

    Siblings are of one kind and came from the same things. What is lit or held is kept first.
    What came from folded nodes alone is folded whole, except what is lit.
    """
    while crowd := _first_crowd(lineage, most):
        lineage = _fold(lineage, crowd, href=href)
    return lineage


def _first_crowd(lineage: Lineage, most: int) -> Sequence[LineageNode]:
    """Return the nodes that one node shall stand for, nothing if no siblings are too many."""
    above = lineage.sources()
    is_folded = {node.key: node.folded > 0 for node in lineage.nodes}
    groups: dict[tuple[str, frozenset[str]], list[LineageNode]] = {}
    for node in lineage.nodes:
        groups.setdefault((node.kind, frozenset(above[node.key])), []).append(node)
    for (_, sources), group in groups.items():
        if sources and all(is_folded[source] for source in sources):
            crowd = [node for node in group if not node.is_lit]
            if len(crowd) > 1:
                return crowd
        elif len(group) > most:
            ranked = sorted(group, key=lambda node: (not node.is_lit, not node.is_held))
            return ranked[most - 1 :]
    return ()


def _fold(lineage: Lineage, crowd: Sequence[LineageNode], *, href: str) -> Lineage:
    gone = {node.key for node in crowd}
    is_held = any(node.is_held for node in crowd)
    count = sum(max(node.folded, 1) for node in crowd)
    more = LineageNode(
        key=f"more:{crowd[0].key}",
        kind=crowd[0].kind,
        label=f"{count} more",
        note="some under hold: see table" if is_held else "all are in the table",
        href=href,
        is_held=is_held,
        is_lit=any(node.is_lit for node in crowd),
        folded=count,
    )
    edges: dict[tuple[str, str], LineageEdge] = {}
    for edge in lineage.edges:
        source = more.key if edge.source in gone else edge.source
        target = more.key if edge.target in gone else edge.target
        is_moved = (source, target) != (edge.source, edge.target)
        moved = LineageEdge(source, target, "" if is_moved else edge.label)
        edges.setdefault((source, target), moved)
    nodes = [node for node in lineage.nodes if node.key not in gone]
    return Lineage((*nodes, more), tuple(edges.values()))
