"""Finds a good layout quickly: the best of several plain ways, then bettered by small exchanges.

No chance is in it: the same job gives the same layout. Whether it is the best possible is decided
elsewhere (`inventory.rules.cutting_bounds`, `inventory.rules.cutting_exact`).
"""

from collections.abc import Callable, Iterator
from functools import partial

from inventory.rules.cutting_bounds import fewest_reels, least_unmet, least_unusable
from inventory.rules.cutting_greedy import (
    GroupKey,
    best_fit,
    fill_slots,
    first_fit,
    oldest,
    place_loose,
    place_together,
    roomiest,
    tightest,
)
from inventory.rules.cutting_job import Job, Layout
from inventory.rules.subset_sums import SubsetSums, up_to

_ROUNDS = 3
_WAYS_TOGETHER: tuple[GroupKey, ...] = (oldest, tightest, roomiest)


def good_layout(job: Job) -> Layout:
    """Return the best layout found for a job; the first that nothing can better ends the search."""
    unmet = least_unmet(job)
    bound = (unmet, least_unusable(job), fewest_reels(job, unmet=unmet))
    best: Layout | None = None
    for layout in _first_layouts(job):
        if best is None or layout.score() < best.score():
            best = layout
        if best.score()[: len(bound)] == bound:
            break
    return improved(best or Layout.empty(job))


def improved(layout: Layout, *, rounds: int = _ROUNDS) -> Layout:
    """Return the layout after the exchanges that make it better, or as it was."""
    best = layout
    for better in (_mend_remnants, _close_reels, _move_to_older):
        tried = better(best.copy())
        if tried.score() < best.score():
            best = tried
    if rounds > 1 and best is not layout:
        return improved(best, rounds=rounds - 1)
    return best


def _first_layouts(job: Job) -> Iterator[Layout]:
    ways = _WAYS_TOGETHER if any(want.groups for want in job.wants) else (oldest,)
    for prefer in ways:
        start = Layout.empty(job)
        place_together(start, prefer=prefer)
        for way in _single_ways(job):
            tried = start.copy()
            way(tried)
            # What a careful way left out is cut all the same, where it fits.
            best_fit(tried, wants=_longest_first(tried), minds_remnant=True)
            best_fit(tried, wants=_longest_first(tried), minds_remnant=False)
            place_loose(tried)
            yield tried


def _single_ways(job: Job) -> Iterator[Callable[[Layout], None]]:
    singles = [n for n, want in enumerate(job.wants) if want.groups is None and not want.is_loose]
    longest = sorted(singles, key=lambda n: (-job.wants[n].length, n))
    yield partial(first_fit, wants=singles)
    yield partial(first_fit, wants=longest)
    yield partial(best_fit, wants=longest, minds_remnant=False)
    yield partial(best_fit, wants=longest, minds_remnant=True)
    for order in _orders(job):
        yield partial(fill_slots, order=order, longest_first=True)
        yield partial(fill_slots, order=order, longest_first=False)


def _orders(job: Job) -> tuple[Callable[[int], tuple[int, ...]], ...]:
    """Return ways to go through the slots: the longest first, the oldest, the shortest."""
    return (
        lambda slot: (-job.slots[slot], slot),
        lambda slot: (slot,),
        lambda slot: (job.slots[slot], slot),
    )


def _longest_first(layout: Layout) -> list[int]:
    wants = layout.job.wants
    movable = [n for n in range(len(wants)) if layout.is_movable(n)]
    return sorted(movable, key=lambda n: (-wants[n].length, n))


def _movable_in(layout: Layout, slot: int) -> list[tuple[int, int]]:
    return [piece for piece in layout.pieces[slot] if layout.is_movable(piece[0])]


def _mend_remnants(layout: Layout) -> Layout:
    """Share the pieces of a slot with an unusable remnant and another slot out anew."""
    for slot in range(len(layout.left)):
        if not layout.job.unusable(layout.left[slot]):
            continue
        others = (other for other in range(len(layout.left)) if other != slot)
        by_use = sorted(others, key=lambda other: (not layout.pieces[other], other))
        next((None for other in by_use if _shared_anew(layout, slot, other)), None)
    return layout


def _shared_anew(layout: Layout, slot: int, other: int) -> bool:
    """Share out the pieces of two slots so that both end whole; False if there is no such way."""
    here, there = _movable_in(layout, slot), _movable_in(layout, other)
    pool = here + there
    total = sum(length for _, length in pool)
    room = layout.left[slot] + sum(length for _, length in here)
    other_room = layout.left[other] + sum(length for _, length in there)
    shortest = layout.job.shortest
    sums = SubsetSums.of([length for _, length in pool], most=min(room, total))
    fits_here = (1 << room) | up_to(room - shortest)
    # What is left for the other slot is `total` less the sum: the same bounds, turned round.
    least = max(total - other_room + shortest, 0)
    fits_there = up_to(total) & ~up_to(least - 1) if other_room >= shortest else 0
    if total >= other_room:
        fits_there |= 1 << (total - other_room)
    best = sums.highest(allowed=fits_here & fits_there)
    if best is None:
        return False
    kept = set(sums.parts_of(best))
    for piece in here:
        layout.take(slot, piece)
    for piece in there:
        layout.take(other, piece)
    for place, (want, length) in enumerate(pool):
        layout.put(want, slot if place in kept else other, length)
    return True


def _close_reels(layout: Layout) -> Layout:
    """Empty a reel into the others that are cut from anyway, the least used first."""
    reel_of = layout.job.reel_of
    for reel in sorted(layout.opened(), key=lambda reel: (_used(layout, reel), reel)):
        tried = layout.copy()
        slots = [slot for slot, at in enumerate(reel_of) if at == reel]
        for slot in slots:
            for piece in _movable_in(tried, slot):
                tried.take(slot, piece)
        if any(tried.pieces[slot] for slot in slots):
            continue
        emptied = [tried.left[slot] for slot in slots]
        for slot in slots:
            tried.left[slot] = 0  # closed: nothing may come back to it
        best_fit(tried, wants=_longest_first(tried), minds_remnant=True)
        for slot, left in zip(slots, emptied, strict=True):
            tried.left[slot] = left
        if tried.score() < layout.score():
            layout = tried
    return layout


def _used(layout: Layout, reel: int) -> int:
    return sum(
        length
        for slot, at in enumerate(layout.job.reel_of)
        if at == reel
        for _, length in layout.pieces[slot]
    )


def _move_to_older(layout: Layout) -> Layout:
    """Cut all that comes from one slot from an older reel instead, where that costs nothing."""
    for slot in range(len(layout.left) - 1, 0, -1):
        pieces = layout.pieces[slot]
        if not pieces or len(_movable_in(layout, slot)) < len(pieces):
            continue
        used = sum(length for _, length in pieces)
        for older in range(slot):
            if layout.left[older] < used:
                continue
            tried = layout.copy()
            for piece in pieces:
                tried.take(slot, piece)
                tried.put(piece[0], older, piece[1])
            if tried.score() < layout.score():
                layout = tried
                break
    return layout
