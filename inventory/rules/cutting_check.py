"""Tells what is wrong with cuts for an order, be they a plan's own or changed by a person.

It shares nothing with the search: it looks at metres and lines alone, so that it can show that a
plan is sound. Whether the plan is a good one is not its business.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from inventory.rules.cutting_terms import CutDemand, FreeStretch, PlannedCut, Together
from inventory.rules.units import format_metres


@dataclass(frozen=True, slots=True)
class CutFault:
    """What is wrong, or worth a second look if `is_grave` is not set; `cut` counts from 0.

    `cut` is None for what is wrong with a line as a whole.
    """

    cut: int | None
    text: str
    is_grave: bool = True


def check_cuts(
    cuts: Sequence[PlannedCut], *, demands: Iterable[CutDemand], stock: Sequence[FreeStretch]
) -> list[CutFault]:
    """Return everything that is wrong with the cuts, by cut, then by line."""
    asked = {demand.line: demand for demand in demands}
    by_reel: defaultdict[str, list[FreeStretch]] = defaultdict(list)
    for part in stock:
        by_reel[part.reel].append(part)
    faults = [
        fault
        for place, cut in enumerate(cuts)
        for fault in _of_cut(place, cut, asked.get(cut.line), by_reel[cut.reel])
    ]
    faults += _overlaps(cuts)
    faults += _left_between(cuts, by_reel)
    for line, demand in asked.items():
        of_line = [cut for cut in cuts if cut.line == line]
        faults += _of_line(demand, of_line, by_reel)
    return faults


def missing_by_line(cuts: Iterable[PlannedCut], *, demands: Iterable[CutDemand]) -> dict[str, int]:
    """Return for each line how many mm of it the cuts leave uncut; 0 when all of it is cut."""
    cut_mm: defaultdict[str, int] = defaultdict(int)
    for cut in cuts:
        cut_mm[cut.line] += cut.stretch.length_mm
    return {demand.line: max(demand.total_mm - cut_mm[demand.line], 0) for demand in demands}


def _of_cut(
    place: int, cut: PlannedCut, demand: CutDemand | None, free: Sequence[FreeStretch]
) -> Iterator[CutFault]:
    if demand is None:
        yield CutFault(place, f"Line {cut.line} has nothing left to be cut.")
        return
    if demand.is_one_length and cut.stretch.length_mm != demand.length_mm:
        asked, given = format_metres(demand.length_mm), format_metres(cut.stretch.length_mm)
        yield CutFault(
            place, f"Line {cut.line} asks for {asked}; this piece is {given}.", is_grave=False
        )
    if not free:
        yield CutFault(place, f"Nothing of reel {cut.reel} is free, clear of holds and offered.")
        return
    if free[0].designation != demand.designation:
        message = f"Reel {cut.reel} is {free[0].designation}; the line asks for another rope."
        yield CutFault(place, message)
    if not any(_holds(part, cut) for part in free):
        left = "; ".join(str(part.stretch) for part in free)
        yield CutFault(place, f"{cut.stretch} of reel {cut.reel} is not all clear: {left} is.")


def _overlaps(cuts: Sequence[PlannedCut]) -> Iterator[CutFault]:
    ordered = sorted(enumerate(cuts), key=lambda item: (item[1].reel, item[1].stretch))
    for (_, before), (place, after) in pairwise(ordered):
        if before.reel == after.reel and before.stretch.overlaps(after.stretch):
            message = f"It shares metres of reel {after.reel} with the piece {before.stretch}."
            yield CutFault(place, message)


def _left_between(
    cuts: Sequence[PlannedCut], by_reel: Mapping[str, Sequence[FreeStretch]]
) -> Iterator[CutFault]:
    """Find pieces before which rope is left, so that a stretch falls into two."""
    ends = {(cut.reel, cut.stretch.to_mm) for cut in cuts}
    for place, cut in enumerate(cuts):
        starts = {part.stretch.from_mm for part in by_reel.get(cut.reel, ())}
        if cut.stretch.from_mm not in starts and (cut.reel, cut.stretch.from_mm) not in ends:
            message = "Rope is left before this piece, so that a free stretch falls into two."
            yield CutFault(place, message, is_grave=False)


def _of_line(
    demand: CutDemand, cuts: Sequence[PlannedCut], by_reel: Mapping[str, Sequence[FreeStretch]]
) -> Iterator[CutFault]:
    if demand.is_one_length and len(cuts) > demand.quantity:
        message = f"Line {demand.line} asks for {demand.quantity} more, not {len(cuts)}."
        yield CutFault(None, message)
    if not demand.is_one_length and sum(c.stretch.length_mm for c in cuts) > demand.total_mm:
        message = f"Line {demand.line} asks for no more than {format_metres(demand.total_mm)}."
        yield CutFault(None, message, is_grave=False)
    if not cuts:
        return
    if demand.together is Together.ONE_REEL:
        reels = {cut.reel for cut in cuts} | ({demand.bound_reel} - {""})
        if len(reels) > 1:
            listed = ", ".join(sorted(reels))
            yield CutFault(None, f"Line {demand.line} is to come from one reel, not {listed}.")
    if demand.together is Together.ONE_HEAT and not _is_one_heat(demand, cuts, by_reel):
        yield CutFault(None, f"Not all pieces of line {demand.line} are of the same heats.")


def _is_one_heat(
    demand: CutDemand, cuts: Sequence[PlannedCut], by_reel: Mapping[str, Sequence[FreeStretch]]
) -> bool:
    found = {part.heats for cut in cuts for part in by_reel.get(cut.reel, ()) if _holds(part, cut)}
    if demand.bound_heats is not None:
        found.add(demand.bound_heats)
    return len(found) == 1 and None not in found


def _holds(part: FreeStretch, cut: PlannedCut) -> bool:
    return part.stretch.from_mm <= cut.stretch.from_mm and cut.stretch.to_mm <= part.stretch.to_mm
