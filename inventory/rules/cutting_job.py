"""One rope's part of a cutting plan as whole numbers, and a layout of pieces being tried on it.

Lengths are counted in the largest unit that divides them all, so that an exact solver has small
numbers to deal with. How a layout is found is decided by the files that import this one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import reduce
from math import gcd
from typing import Self

from inventory.rules.cutting_terms import CutDemand, FreeStretch, Together

NOWHERE = -1
"""The group of a slot from which a want cannot be cut at all."""


@dataclass(frozen=True, slots=True)
class Want:
    """`count` lengths asked for, for one demand; loose: any parts of `total`, none below `part`.

    `groups` numbers for each slot the reel or the heats that all must share; None if nothing is.
    """

    demand: int
    length: int
    count: int
    is_loose: bool
    part: int
    groups: tuple[int, ...] | None

    @property
    def total(self) -> int:
        """All of it."""
        return self.length * self.count

    def may_use(self, slot: int) -> bool:
        """Tell whether it may be cut from a slot at all."""
        return self.groups is None or self.groups[slot] != NOWHERE


@dataclass(frozen=True, slots=True)
class Job:
    """What is wanted of one rope, and the slots (free stretches, oldest reel first) for it."""

    wants: tuple[Want, ...]
    slots: tuple[int, ...]
    reel_of: tuple[int, ...]
    shortest: int
    unit_mm: int

    def unusable(self, left: int) -> int:
        """Return how much of what is left of a slot is of no use."""
        return left if left < self.shortest else 0


@dataclass(slots=True)
class Layout:
    """Pieces (want, length) in slots; `left` is what is free yet, `missing` what is not placed."""

    job: Job
    left: list[int]
    missing: list[int]
    pieces: list[list[tuple[int, int]]] = field(default_factory=list)

    @classmethod
    def empty(cls, job: Job) -> Self:
        """Start with nothing placed."""
        wants = [want.total for want in job.wants]
        return cls(job, list(job.slots), wants, [[] for _ in job.slots])

    def copy(self) -> Self:
        """Return another layout to go on trying with."""
        pieces = [list(placed) for placed in self.pieces]
        return type(self)(self.job, list(self.left), list(self.missing), pieces)

    def put(self, want: int, slot: int, length: int) -> None:
        """Place a piece; it must fit."""
        self.left[slot] -= length
        self.missing[want] -= length
        self.pieces[slot].append((want, length))

    def take(self, slot: int, piece: tuple[int, int]) -> None:
        """Take a placed piece out again."""
        self.pieces[slot].remove(piece)
        self.left[slot] += piece[1]
        self.missing[piece[0]] += piece[1]

    def is_movable(self, want: int) -> bool:
        """Tell whether a piece may go to any slot by itself."""
        asked = self.job.wants[want]
        return asked.groups is None and not asked.is_loose

    def opened(self) -> set[int]:
        """Return the reels that something is cut from."""
        return {self.job.reel_of[slot] for slot, placed in enumerate(self.pieces) if placed}

    def score(self) -> tuple[int, int, int, int]:
        """Return what is unmet, what is unusable, the reels opened, and how young they are."""
        opened = self.opened()
        unusable = sum(map(self.job.unusable, self.left))
        return sum(self.missing), unusable, len(opened), sum(opened)


def job_of(
    demands: Sequence[CutDemand], stock: Sequence[FreeStretch], *, shortest_usable_mm: int
) -> Job:
    """Put demands and stock of one rope into whole numbers; slots stand as the stock does."""
    lengths = [demand.length_mm for demand in demands]
    unit = reduce(gcd, [part.stretch.length_mm for part in stock], reduce(gcd, lengths, 0))
    shortest = -(-shortest_usable_mm // unit)
    ranks = {reel: rank for rank, reel in enumerate(dict.fromkeys(part.reel for part in stock))}
    return Job(
        wants=tuple(
            _want(index, demand, stock, unit=unit, shortest=shortest)
            for index, demand in enumerate(demands)
        ),
        slots=tuple(part.stretch.length_mm // unit for part in stock),
        reel_of=tuple(ranks[part.reel] for part in stock),
        shortest=shortest,
        unit_mm=unit,
    )


def _want(
    index: int, demand: CutDemand, stock: Sequence[FreeStretch], *, unit: int, shortest: int
) -> Want:
    length = demand.length_mm // unit
    return Want(
        demand=index,
        length=length,
        count=demand.quantity,
        is_loose=not demand.is_one_length,
        part=max(min(shortest, length * demand.quantity), 1),
        groups=_groups(demand, stock),
    )


def _groups(demand: CutDemand, stock: Sequence[FreeStretch]) -> tuple[int, ...] | None:
    if demand.together is Together.NOT_ASKED:
        return None
    if demand.together is Together.ONE_REEL:
        bound = demand.bound_reel
        return _numbered(part.reel if bound in {"", part.reel} else None for part in stock)
    heats = demand.bound_heats
    return _numbered(
        part.heats if part.heats and heats in {None, part.heats} else None for part in stock
    )


def _numbered(keys: Iterable[str | frozenset[int] | None]) -> tuple[int, ...]:
    numbers: dict[str | frozenset[int], int] = {}
    return tuple(NOWHERE if key is None else numbers.setdefault(key, len(numbers)) for key in keys)
