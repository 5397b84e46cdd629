"""Which class of the factor table a construction belongs to.

A closed list: what is not on it has no class, and nothing is computed from a guess. The factors
themselves, and whether a class is held at all, are left to the tables.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from certs.rules.derived import Source

OWN_NAME = Source(
    name="the factor table names this construction itself",
    confidence="read",
)
NAMED_LAY = Source(
    name="the factor table's note on the class: 6x19 is Seale, Warrington, filler; "
    "6x36 is Warrington-Seale",
    confidence="two-sources",
)
WIRE_RANGE = Source(
    name="number of wires in a strand of the class, EN 12385-2 and EN 12385-4",
    confidence="memory",
    note="15 to 26 wires for the classes 6x19 and 8x19, 29 to 57 for 6x36 and 8x36",
)
STRAND_RANGE = Source(
    name="number of strands of the class 18x7, EN 12385-4",
    confidence="memory",
    note="17 or 18 strands",
)

AMBIGUOUS: Mapping[str, str] = {
    "6x19": "6x19 alone does not say how the strand is laid: parallel (6x19S, 6x19W, 6x25F) or "
    "crossed (6x19M), which is about 7 % weaker. Enter the full construction",
    "6x37": "6x37 alone does not say how the strand is laid: parallel (6x36WS) or crossed "
    "(6x37M), which is about 10 % weaker. Enter the full construction",
    "8x19": "8x19 alone does not say how the strand is laid. Enter the full construction, "
    "such as 8x19S",
    "19x7": "19x7 counts the core as a strand. Enter it as 18x7-WSC if that is what it is",
    "35x7": "35x7 may be 34x7 on a strand core, or a rope of parallel-laid strands with factors "
    "of its own. Enter the full construction",
}


@dataclass(frozen=True, slots=True)
class RopeClass:
    """A class of the factor table, and why the construction belongs to it."""

    name: str
    source: Source


def rope_class(construction: str) -> RopeClass | None:
    """Name the class of a construction such as `6x25F`; None where none can be defended.

    Compacted strands (6xK36WS) are never classed: the factors do not cover them.
    """
    return _CLASSES.get(construction)


def why_unclassed(construction: str) -> str:
    """Tell, as a clause, why a construction has no class."""
    if construction in AMBIGUOUS:
        return AMBIGUOUS[construction]
    if "K" in construction:
        return f"{construction} has compacted strands, which the factor tables do not cover"
    return f"no class of the factor table is held for {construction}"


def constructions_of(class_name: str) -> tuple[str, ...]:
    """List the constructions of one class, in the order they are held."""
    return tuple(name for name, found in _CLASSES.items() if found.name == class_name)


def _each_class() -> Iterator[tuple[str, RopeClass]]:
    for name in ("6x7", "8x7", "6x36", "8x36", "6x35N", "6x19M", "6x37M", "18x7", "34x7"):
        yield name, RopeClass(name, OWN_NAME)
    for name in ("1x7", "1x19", "1x37"):
        yield name, RopeClass(name, OWN_NAME)
    for name in ("6x19S", "6x19W", "6x21F", "6x25F"):
        yield name, RopeClass("6x19", NAMED_LAY)
    yield "6x36WS", RopeClass("6x36", NAMED_LAY)
    yield "6x26WS", RopeClass("6x19", WIRE_RANGE)
    for name in ("6x31WS", "6x41WS", "6x49SWS"):
        yield name, RopeClass("6x36", WIRE_RANGE)
    for name in ("8x19S", "8x19W", "8x21F", "8x25F", "8x26WS"):
        yield name, RopeClass("8x19", WIRE_RANGE)
    for name in ("8x31WS", "8x36WS", "8x41WS", "8x49SWS"):
        yield name, RopeClass("8x36", WIRE_RANGE)
    yield "17x7", RopeClass("18x7", STRAND_RANGE)


_CLASSES: Mapping[str, RopeClass] = dict(_each_class())
