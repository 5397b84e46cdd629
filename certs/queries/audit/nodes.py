"""Compares the stored nodes of the journal's hash tree with those made anew from its entries."""

from collections.abc import Iterable, Iterator

from django.db.models import Q

from certs.rules.disagreement import Disagreement, What
from inventory.models import MerkleNode
from inventory.rules.tree_growth import Node

# One altered entry makes every node above it another; a few of them tell as much as all.
MOST_TOLD = 20


class Nodes:
    """Nodes made anew and not compared yet, and how many were found wrong so far."""

    def __init__(self) -> None:
        """Begin with an empty tree."""
        self._waiting: dict[tuple[int, int], str] = {}
        self._wrong = 0
        self._made = 0

    def computed(self, nodes: Iterable[Node]) -> None:
        """Take nodes that an entry completes."""
        self._waiting.update(((node.level, node.index), node.hash.hex()) for node in nodes)

    def compare(self) -> Iterator[Disagreement]:
        """Compare all that wait with what is stored, in one query."""
        stored = self._stored()
        for place, expected in self._waiting.items():
            found = stored.get(place)
            if found != expected:
                yield from self._tell(place, expected, found or "nothing")
        self._made += len(self._waiting)
        self._waiting = {}

    def beyond(self, size: int) -> Iterator[Disagreement]:
        """Name stored nodes that a tree of this size does not have; say how many were not told."""
        extra = MerkleNode.objects.order_by("level", "index")
        if extra.count() > self._made:
            for level in range(1, 64):
                above = extra.filter(level=level, index__gte=size >> level)
                for node in above.values_list("index", "hash").iterator():
                    yield from self._tell((level, node[0]), "nothing", node[1])
        if self._wrong > MOST_TOLD:
            untold = f"{self._wrong - MOST_TOLD} more"
            yield Disagreement(What.NODE, "tree of the journal", "no other wrong node", untold)

    def _stored(self) -> dict[tuple[int, int], str]:
        if not self._waiting:
            return {}
        spans: dict[int, tuple[int, int]] = {}
        for level, index in self._waiting:
            least, most = spans.get(level, (index, index))
            spans[level] = (min(least, index), max(most, index))
        among = Q()
        for level, span in spans.items():
            among |= Q(level=level, index__range=span)
        rows = MerkleNode.objects.filter(among).values_list("level", "index", "hash")
        return {(level, index): hashed for level, index, hashed in rows}

    def _tell(self, place: tuple[int, int], expected: str, found: str) -> Iterator[Disagreement]:
        self._wrong += 1
        if self._wrong <= MOST_TOLD:
            where = f"node {place[1]} of level {place[0]}"
            yield Disagreement(What.NODE, where, expected, found)
