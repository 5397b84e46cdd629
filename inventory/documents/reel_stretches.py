"""Decides what a reel map is told: stretches of metres with a kind, and the heats they came from.

The words for the kinds are here, so that drawing, legend and table say the same.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum


class MapKind(StrEnum):
    """Where metres of a reel went."""

    SUPPLY = "supply"
    SAMPLE = "sample"
    REWIND = "rewind"
    SCRAP = "scrap"
    FREE = "free"
    HELD = "held"


WORDS: dict[MapKind, str] = {
    MapKind.SUPPLY: "supplied",
    MapKind.SAMPLE: "test sample",
    MapKind.REWIND: "rewound to another reel",
    MapKind.SCRAP: "scrap",
    MapKind.FREE: "still on the reel",
    MapKind.HELD: "on the reel, under hold: do not use",
}


@dataclass(frozen=True, slots=True)
class MapStretch:
    """Metres `[from_mm, to_mm)` of a reel and where they went.

    `is_lit` marks what the reader is looking at; `is_held` a piece that left and is under hold.
    """

    from_mm: int
    to_mm: int
    kind: MapKind
    label: str
    href: str = ""
    is_lit: bool = False
    is_held: bool = False

    @property
    def is_under_hold(self) -> bool:
        """Tell whether these metres must not be used."""
        return self.is_held or self.kind is MapKind.HELD

    @property
    def word(self) -> str:
        """Return in words where the metres went, with the hold if there is one."""
        is_gone = self.is_held and self.kind is not MapKind.HELD
        return f"{WORDS[self.kind]}, under hold: do not use" if is_gone else WORDS[self.kind]

    @property
    def spoken(self) -> str:
        """Return the stretch as one phrase."""
        name = f"{self.label}, " if self.label else ""
        return f"{name}{self.word}, {span(self.from_mm, self.to_mm)}"


@dataclass(frozen=True, slots=True)
class MapHeat:
    """Metres `[from_mm, to_mm)` that hold wires of a heat; heats may share metres."""

    from_mm: int
    to_mm: int
    label: str

    @property
    def spoken(self) -> str:
        """Return the heat and its metres as one phrase."""
        return f"heat {self.label}, {span(self.from_mm, self.to_mm)}"


def metres(length_mm: int) -> str:
    """Write millimetres as metres, exact, without trailing zeros: 12500 is "12.5"."""
    whole, rest = divmod(length_mm, 1000)
    return f"{whole}.{rest:03d}".rstrip("0").rstrip(".")


def span(from_mm: int, to_mm: int) -> str:
    """Write a stretch in metres."""
    return f"{metres(from_mm)} to {metres(to_mm)} m"


def whole_reel(*, length_mm: int, stretches: Sequence[MapStretch]) -> tuple[MapStretch, ...]:
    """Return the stretches in order, with every unnamed metre as still on the reel.

    Raises:
        ValueError: the reel has no length, a stretch lies outside it, or two share metres.

    """
    if length_mm <= 0:
        message = f"a reel map needs a length above zero, not {length_mm} mm"
        raise ValueError(message)
    return tuple(_filled(length_mm, sorted(stretches, key=lambda item: item.from_mm)))


def _filled(length_mm: int, stretches: Sequence[MapStretch]) -> Iterator[MapStretch]:
    reached = 0
    for stretch in stretches:
        if not reached <= stretch.from_mm < stretch.to_mm <= length_mm:
            message = (
                f"{stretch.spoken}: stretches of a reel of {metres(length_mm)} m"
                " lie inside it and share no metres"
            )
            raise ValueError(message)
        if stretch.from_mm > reached:
            yield MapStretch(reached, stretch.from_mm, MapKind.FREE, "")
        yield stretch
        reached = stretch.to_mm
    if reached < length_mm:
        yield MapStretch(reached, length_mm, MapKind.FREE, "")
