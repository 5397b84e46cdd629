"""Gives cuts for which no metre was named the first free metres of their reel.

A person who moves a piece to another reel need not work out where on it there is room.
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from inventory.rules.cutting_terms import FreeStretch, PlannedCut
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres


@dataclass(frozen=True, slots=True)
class WishedCut:
    """A piece for a line from a reel; `from_mm` is None for wherever there is room."""

    line: str
    reel: str
    length_mm: int
    from_mm: int | None = None


class NoRoom(Refusal):
    """A reel has no room for a piece; `cut` counts the wishes from 0."""

    def __init__(self, message: str, *, cut: int) -> None:
        """Take the sentence and which piece it is about."""
        super().__init__(message, field="from_mm")
        self.cut = cut


def placed(wishes: Sequence[WishedCut], stock: Iterable[FreeStretch]) -> list[PlannedCut]:
    """Return the wishes in their order, each at a metre; those that named one keep it.

    Raises:
        NoRoom: a reel has no free stretch that gives a piece besides the others.
        Refusal: a metre or length that no stretch has.
    """
    free: defaultdict[str, list[Stretch]] = defaultdict(list)
    for part in stock:
        free[part.reel].append(part.stretch)
    taken: defaultdict[str, list[Stretch]] = defaultdict(list)
    found: dict[int, PlannedCut] = {}
    named_first = sorted(range(len(wishes)), key=lambda place: wishes[place].from_mm is None)
    for place in named_first:
        wish = wishes[place]
        from_mm = wish.from_mm
        if from_mm is None:
            from_mm = _room(wish, free[wish.reel], taken[wish.reel], place=place)
        stretch = Stretch(from_mm, from_mm + wish.length_mm)
        taken[wish.reel].append(stretch)
        found[place] = PlannedCut(wish.line, wish.reel, stretch)
    return [found[place] for place in range(len(wishes))]


def _room(wish: WishedCut, free: Iterable[Stretch], taken: Sequence[Stretch], *, place: int) -> int:
    for stretch in sorted(free):
        reached_mm = stretch.from_mm
        for gone in sorted(part for part in taken if part.overlaps(stretch)):
            if gone.from_mm - reached_mm >= wish.length_mm:
                break
            reached_mm = max(reached_mm, gone.to_mm)
        if stretch.to_mm - reached_mm >= wish.length_mm:
            return reached_mm
    message = (
        f"Reel {wish.reel} has no {format_metres(wish.length_mm)} in one length left beside the"
        " other pieces."
    )
    raise NoRoom(message, cut=place)
