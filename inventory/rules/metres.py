"""Arithmetic of the metre scale: stretches of a reel, what is left, the sum of cuts, winding.

All positions are whole millimetres from the free end as received. Which cuts exist and may be
made is the record's business; this file only computes with them.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Self

from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres

PURPOSES = ("supply", "sample", "rewind", "scrap")


@dataclass(frozen=True, slots=True, order=True)
class Stretch:
    """The half-open interval `[from_mm, to_mm)` on one scale, so that neighbours may touch."""

    from_mm: int
    to_mm: int

    def __post_init__(self) -> None:
        """Refuse a stretch that starts before the free end, is empty or runs backwards."""
        if self.from_mm < 0:
            message = (
                f"A stretch cannot start before metre 0 (given {format_metres(self.from_mm)})."
            )
            raise Refusal(message, field="from_mm")
        if self.to_mm <= self.from_mm:
            message = (
                f"A stretch must end after it starts (given {format_metres(self.from_mm)}"
                f" to {format_metres(self.to_mm)})."
            )
            raise Refusal(message, field="to_mm")

    def __str__(self) -> str:
        """Write both ends in metres."""
        return f"{format_metres(self.from_mm)} to {format_metres(self.to_mm)}"

    @property
    def length_mm(self) -> int:
        """The length, always at least 1 mm."""
        return self.to_mm - self.from_mm

    def overlaps(self, other: Self) -> bool:
        """Tell whether the two share at least one millimetre."""
        return self.from_mm < other.to_mm and other.from_mm < self.to_mm

    def contains(self, mm: int) -> bool:
        """Tell whether the position lies in the stretch; its end does not."""
        return self.from_mm <= mm < self.to_mm

    def clip(self, other: Self) -> Self | None:
        """Return the part of this stretch that lies in the other, or None when none does."""
        if not self.overlaps(other):
            return None
        return type(self)(max(self.from_mm, other.from_mm), min(self.to_mm, other.to_mm))


def free_stretches(length_mm: int, taken: Iterable[Stretch]) -> list[Stretch]:
    """Return what is left of a scale of this length, in order, as the longest possible stretches.

    `taken` may come in any order, overlap, or run past the end.
    """
    free = []
    reached_mm = 0
    for stretch in sorted(taken):
        if reached_mm < min(stretch.from_mm, length_mm):
            free.append(Stretch(reached_mm, min(stretch.from_mm, length_mm)))
        reached_mm = max(reached_mm, stretch.to_mm)
    if reached_mm < length_mm:
        free.append(Stretch(reached_mm, length_mm))
    return free


@dataclass(frozen=True, slots=True)
class Balance:
    """What became of a reel's length; the five parts always add up to `length_mm`."""

    length_mm: int
    supply_mm: int
    sample_mm: int
    rewind_mm: int
    scrap_mm: int
    remaining_mm: int


def balance(length_mm: int, entries: Iterable[tuple[str, Stretch]]) -> Balance:
    """Add up the cuts of one reel by purpose (one of `PURPOSES`).

    Raises `Refusal` when two cuts overlap, one passes the end, or a purpose is unknown.
    """
    cuts = sorted(entries, key=lambda entry: entry[1])
    for (_, before), (_, after) in pairwise(cuts):
        if before.overlaps(after):
            message = f"The cut {after} overlaps the cut {before}."
            raise Refusal(message, field="from_mm")
    sums = dict.fromkeys(PURPOSES, 0)
    for purpose, stretch in cuts:
        if stretch.to_mm > length_mm:
            message = f"The cut {stretch} passes the end of the reel at {format_metres(length_mm)}."
            raise Refusal(message, field="to_mm")
        if purpose not in sums:
            message = f"“{purpose}” is no purpose of a cut; it is one of {', '.join(PURPOSES)}."
            raise Refusal(message, field="purpose")
        sums[purpose] += stretch.length_mm
    return Balance(
        length_mm=length_mm,
        supply_mm=sums["supply"],
        sample_mm=sums["sample"],
        rewind_mm=sums["rewind"],
        scrap_mm=sums["scrap"],
        remaining_mm=length_mm - sum(sums.values()),
    )


@dataclass(frozen=True, slots=True)
class Winding:
    """A stretch of one reel wound on to another package, whose own scale begins at 0.

    Winding turns the rope round: the last metre of the stretch becomes the child's free end.
    Wound twice, or cut off and left as it lay, it is not turned.
    """

    origin: Stretch
    is_turned: bool

    @property
    def length_mm(self) -> int:
        """The length of the child's scale."""
        return self.origin.length_mm

    def to_parent(self, mm: int) -> int:
        """Return the parent's position of a point between two millimetres of the child.

        `Refusal` when the child has no such point; both its ends are points of it.
        """
        if not 0 <= mm <= self.length_mm:
            message = f"{format_metres(mm)} is not on a length of {format_metres(self.length_mm)}."
            raise Refusal(message, field="mm")
        return self.origin.to_mm - mm if self.is_turned else self.origin.from_mm + mm

    def stretch_to_parent(self, stretch: Stretch) -> Stretch:
        """Return where on the parent this stretch of the child came from."""
        ends = (self.to_parent(stretch.from_mm), self.to_parent(stretch.to_mm))
        return Stretch(min(ends), max(ends))

    def stretch_to_child(self, stretch: Stretch) -> Stretch | None:
        """Return where this stretch of the parent went on the child, None if nothing of it did."""
        part = stretch.clip(self.origin)
        if part is None:
            return None
        if self.is_turned:
            return Stretch(self.origin.to_mm - part.to_mm, self.origin.to_mm - part.from_mm)
        return Stretch(part.from_mm - self.origin.from_mm, part.to_mm - self.origin.from_mm)


@dataclass(frozen=True, slots=True)
class Affine:
    """A map from one scale to another, `sign * mm + offset_mm`, with sign +1 or -1.

    It starts as the identity at the piece one asks about and is carried up through every
    winding, until it says at which metre of the mill's reel a point of that piece was.
    """

    sign: int = 1
    offset_mm: int = 0

    def at(self, mm: int) -> int:
        """Return the position on the far scale."""
        return self.sign * mm + self.offset_mm

    def then(self, winding: Winding) -> Self:
        """Return the map carried one step further, to the parent of the winding."""
        if winding.is_turned:
            return type(self)(-self.sign, winding.origin.to_mm - self.offset_mm)
        return type(self)(self.sign, winding.origin.from_mm + self.offset_mm)

    def stretch_at(self, stretch: Stretch) -> Stretch:
        """Return the stretch of the far scale; its ends change places when the sign is -1."""
        ends = (self.at(stretch.from_mm), self.at(stretch.to_mm))
        return Stretch(min(ends), max(ends))
