"""Reads strengths out of frozen papers, and tells whether the record has lowered them since."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Final

from certs.queries.derivation import certified_force
from certs.queries.papers import Paper
from certs.queries.stated_strengths import marked_in
from certs.rules.rope_match import NoBasis
from inventory.models import Reel

PROVISIONAL: Final = (
    "A figure behind it is from memory or habit: treat it as provisional and have it confirmed."
)


@dataclass(frozen=True, slots=True)
class Load:
    """A strength as the paper states it, with the words that must stand beside it."""

    quantity: str
    value: str
    words: str


def loads_in(papers: Iterable[Paper]) -> Iterator[Load]:
    """Give what the papers in force say that the item may carry, each once.

    Two bands of angles stay two loads though they carry the same.
    """
    seen: set[Load] = set()
    for paper in papers:
        for load in _loads_of(paper):
            if load not in seen:
                seen.add(load)
                yield load


def _words(rating: Mapping[str, Any]) -> str:
    return f"{rating['words'].removesuffix('.')}.{_doubt(rating)}"


def _doubt(rating: Mapping[str, Any]) -> str:
    return f" {PROVISIONAL}" if rating["is_provisional"] else ""


def _bounded(rating: Mapping[str, Any], mark: Mapping[str, Any] | None) -> Load:
    """State a rating; to a stranger no more than the mark, whatever is derived."""
    stated, unit = rating["stated"], rating["unit"]
    if mark is None or unit != mark["unit"] or Decimal(stated) <= Decimal(mark["stated"]):
        return Load(rating["quantity"], f"{stated} {unit}", _words(rating))
    legs = rating["words"].split(". ")[0]
    words = f"{legs}. Derived {stated} {unit}; the mark is lower and governs.{_doubt(rating)}"
    return Load(rating["quantity"], f"{mark['stated']} {unit}", words)


def _marked(mark: Mapping[str, Any], first: Mapping[str, Any]) -> Load:
    """State the mark in place of the rating of the band that it is for."""
    words = f"{mark['words']}.{_doubt(first)}"
    return Load(mark["quantity"], f"{mark['stated']} {mark['unit']}", words)


def is_derated(reel: Reel, papers: Iterable[Paper]) -> bool:
    """Tell whether the rope's force today is below what a paper in force states."""
    stated = [
        Decimal(rope["force"]["stated"])
        for paper in papers
        for rope in paper.snapshot["ropes"]
        if rope["reel"] == reel.code
    ]
    if not stated:
        return False
    try:
        return certified_force(reel).stated < max(stated)
    except NoBasis:
        return True


def _loads_of(paper: Paper) -> Iterator[Load]:
    assembly = paper.snapshot["assembly"]
    if assembly:
        mark = marked_in(paper.snapshot)
        if mark:
            yield _marked(mark, assembly["ratings"][0])
        for rating in assembly["ratings"][1 if mark else 0 :]:
            yield _bounded(rating, mark)
        return
    for rope in paper.snapshot["ropes"]:
        force = rope["force"]
        yield Load(
            quantity=f"Minimum breaking force of the rope of reel {rope['reel']}",
            value=f"{force['stated']} {force['unit']}",
            words="The force at which new rope may break, not a load that it may carry in use.",
        )
