"""Decides where the nodes of a directed graph stand: in layers by longest path, few crossings.

1. layer of a node = longest path from a source; a source moves up to just before its first use;
2. an edge over several layers is given a way-point in each layer it crosses;
3. the order within layers follows the mean place of the neighbours, swept to and fro;
4. heights pull each node to its neighbours as far as the order and the spacing allow.

The layering and the barycentre order are those of Sugiyama, Tagawa and Toda (1981), from memory.
"""

from bisect import bisect_right, insort
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

_SWEEPS = 8
_WAYPOINT = 0.35

Point = tuple[str, int]
"""A node or, for an edge that passes through a layer, its way-point: a name and the layer."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Layers of keys, the height of each in node pitches, and the way of each edge."""

    layer: dict[str, int]
    height: dict[str, float]
    ways: dict[tuple[str, str], tuple[tuple[int, float], ...]]

    @property
    def layers(self) -> int:
        """Return how many layers there are."""
        return max(self.layer.values(), default=0) + 1


def lay_out(keys: Sequence[str], *, targets: Mapping[str, Sequence[str]]) -> Layout:
    """Lay out a graph without circles; `targets` gives key -> keys, for every key.

    Raises:
        ValueError: the graph runs in a circle.

    """
    layer = layer_of_each(keys, targets=targets)
    chains = {
        (source, target): _chain(source, target, layer)
        for source in keys
        for target in targets[source]
    }
    rows = _rows(keys, layer, list(chains.values()))
    links = [link for chain in chains.values() for link in pairwise(chain)]
    before: dict[Point, list[Point]] = {}
    after: dict[Point, list[Point]] = {}
    for left, right in links:
        after.setdefault(left, []).append(right)
        before.setdefault(right, []).append(left)
    rows = _untangled(rows, before, after)
    height = _heights(rows, before, after, nodes=set(layer.items()))
    return Layout(
        layer=layer,
        height={key: height[key, layer[key]] for key in keys},
        ways={
            ends: tuple((point[1], height[point]) for point in chain)
            for ends, chain in chains.items()
        },
    )


def layer_of_each(keys: Sequence[str], *, targets: Mapping[str, Sequence[str]]) -> dict[str, int]:
    """Return key -> layer, 0 for what comes first.

    Raises:
        ValueError: the graph runs in a circle.

    """
    waiting = dict.fromkeys(keys, 0)
    for key in keys:
        for target in targets[key]:
            waiting[target] += 1
    roots = {key for key in keys if waiting[key] == 0}
    layer = dict.fromkeys(keys, 0)
    ready = [key for key in keys if key in roots]
    for key in ready:
        for target in targets[key]:
            layer[target] = max(layer[target], layer[key] + 1)
            waiting[target] -= 1
            if waiting[target] == 0:
                ready.append(target)
    if len(ready) < len(keys):
        message = "a lineage cannot run in a circle"
        raise ValueError(message)
    for key in roots:
        layer[key] = min((layer[target] for target in targets[key]), default=1) - 1
    return layer


def _chain(source: str, target: str, layer: Mapping[str, int]) -> tuple[Point, ...]:
    """Return the ends of an edge with a way-point for every layer between them."""
    between = range(layer[source] + 1, layer[target])
    name = f"{source}\0{target}"
    return ((source, layer[source]), *((name, i) for i in between), (target, layer[target]))


def _rows(
    keys: Sequence[str], layer: Mapping[str, int], chains: Sequence[Sequence[Point]]
) -> list[list[Point]]:
    """Return the points of each layer: the nodes as given, then the way-points."""
    rows: list[list[Point]] = [[] for _ in range(max(layer.values(), default=0) + 1)]
    for key in keys:
        rows[layer[key]].append((key, layer[key]))
    for chain in chains:
        for point in chain[1:-1]:
            rows[point[1]].append(point)
    return rows


def _untangled(
    rows: list[list[Point]],
    before: Mapping[Point, Sequence[Point]],
    after: Mapping[Point, Sequence[Point]],
) -> list[list[Point]]:
    """Sweep the orders to and fro; return the one with the fewest crossings seen."""
    best, fewest = rows, count_crossings(rows, after)
    for sweep in range(2 * _SWEEPS):
        rows = _sweep(rows, before) if sweep % 2 == 0 else _sweep(rows[::-1], after)[::-1]
        crossings = count_crossings(rows, after)
        if crossings < fewest:
            best, fewest = rows, crossings
    return best


def count_crossings(rows: Sequence[Sequence[Point]], after: Mapping[Point, Sequence[Point]]) -> int:
    """Count the pairs of links between neighbouring layers that cross, by their inversions."""
    crossings = 0
    for row, next_row in pairwise(rows):
        place = {point: index for index, point in enumerate(next_row)}
        seen: list[int] = []
        for point in row:
            ends = sorted(place[other] for other in after.get(point, ()))
            crossings += sum(len(seen) - bisect_right(seen, end) for end in ends)
            for end in ends:
                insort(seen, end)
    return crossings


def _sweep(
    rows: Sequence[Sequence[Point]], neighbours: Mapping[Point, Sequence[Point]]
) -> list[list[Point]]:
    """Order each layer by the mean place of the neighbours in the layers already ordered."""
    place: dict[Point, float] = {}
    ordered: list[list[Point]] = []
    for row in rows:
        own = {point: index / max(len(row), 1) for index, point in enumerate(row)}
        wish = {
            point: _mean([place[other] for other in neighbours.get(point, ())], own[point])
            for point in row
        }
        ordered.append(sorted(row, key=lambda point: (wish[point], own[point])))
        place.update({point: index / len(row) for index, point in enumerate(ordered[-1])})
    return ordered


def _mean(values: Sequence[float], otherwise: float) -> float:
    return sum(values) / len(values) if values else otherwise


def _heights(
    rows: Sequence[Sequence[Point]],
    before: Mapping[Point, Sequence[Point]],
    after: Mapping[Point, Sequence[Point]],
    *,
    nodes: set[Point],
) -> dict[Point, float]:
    """Return the height of each point, in node pitches, the highest at 0."""
    size = {point: 1.0 if point in nodes else _WAYPOINT for row in rows for point in row}
    height = {
        point: spot for row in rows for point, spot in zip(row, _stacked(row, size), strict=True)
    }
    for sweep in range(_SWEEPS):
        neighbours = before if sweep % 2 == 0 else after
        for row in rows if sweep % 2 == 0 else reversed(rows):
            wishes = [
                _mean([height[other] for other in neighbours.get(point, ())], height[point])
                for point in row
            ]
            height.update(zip(row, settle(wishes, _stacked(row, size)), strict=True))
    lowest = min(height.values(), default=0.0)
    return {point: value - lowest for point, value in height.items()}


def _stacked(row: Sequence[Point], size: Mapping[Point, float]) -> list[float]:
    """Return the middles of the points of a layer stacked without gaps."""
    reached, middles = 0.0, []
    for point in row:
        middles.append(reached + size[point] / 2)
        reached += size[point]
    return middles


def settle(wishes: Sequence[float], stacked: Sequence[float]) -> list[float]:
    """Return the places nearest to the wishes (least squares) that keep order and spacing.

    `stacked` gives the places without any gap. Pooling of adjacent violators: neighbours that
    want to pass each other share the mean of what they want.
    """
    pools: list[tuple[float, int]] = []
    for wish, least in zip(wishes, stacked, strict=True):
        total, count = wish - least, 1
        while pools and pools[-1][0] / pools[-1][1] >= total / count:
            before_total, before_count = pools.pop()
            total, count = total + before_total, count + before_count
        pools.append((total, count))
    shifts = [total / count for total, count in pools for _ in range(count)]
    return [least + shift for least, shift in zip(stacked, shifts, strict=True)]
