"""Tells the ends of an assembly for paper: ends that are alike share one row.

A sling of four legs has eight ends, made the same way of the same lots; told one by one they fill
half a page.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

Facts = Mapping[str, Any]
_ALIKE = ("kind", "efficiency", "source", "fittings")


@dataclass(frozen=True, slots=True)
class AlikeEnds:
    """Ends made alike: where they are, piece by piece, and the facts of each one of them."""

    places: tuple[tuple[str, str], ...]
    facts: Facts


def alike_ends(ends: Iterable[Facts]) -> tuple[AlikeEnds, ...]:
    """Put ends together that agree in kind, efficiency, source and fittings, in their order."""
    groups: list[list[Facts]] = []
    for end in ends:
        known = next((group for group in groups if _is_alike(group[0], end)), None)
        if known is None:
            groups.append([end])
        else:
            known.append(end)
    return tuple(AlikeEnds(_places(group), group[0]) for group in groups)


def _is_alike(one: Facts, other: Facts) -> bool:
    return all(one[name] == other[name] for name in _ALIKE)


def _places(group: Sequence[Facts]) -> tuple[tuple[str, str], ...]:
    by_piece: dict[str, list[str]] = {}
    for end in group:
        by_piece.setdefault(end["piece"], []).append(end["end"])
    return tuple((piece, _named(ends)) for piece, ends in by_piece.items())


def _named(ends: Sequence[str]) -> str:
    return " and ".join(ends)
