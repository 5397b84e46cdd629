"""What no layout of a cutting job can be better than, by counting alone.

Often a good layout meets these bounds, and then it is proved best without any search. All of it is
exact arithmetic with whole numbers.
"""

from collections.abc import Iterable, Sequence
from itertools import accumulate

from inventory.rules.cutting_job import NOWHERE, Job, Want
from inventory.rules.subset_sums import SubsetSums, up_to


def least_unmet(job: Job) -> int:
    """Return how much of the wants cannot be met even if each had the stock to itself."""
    impossible = [want for want in job.wants if not _can_be_met(job, want)]
    rest = [want for want in job.wants if want not in impossible]
    shortest = min((want.part if want.is_loose else want.length for want in rest), default=0)
    room = sum(slot for slot in job.slots if slot >= shortest)
    total = sum(want.total for want in rest)
    alone = sum(_least_missing(job, want) for want in impossible)
    return alone + max(total - room, 0)


def least_unusable(job: Job) -> int:
    """Return what must stay unusable: of stubs that no sum of the lengths asked for uses up."""
    return sum(
        _least_left(job, place) for place, room in enumerate(job.slots) if room < job.shortest
    )


def fewest_reels(job: Job, *, unmet: int) -> int:
    """Return how many reels are needed at least to cut all but `unmet`."""
    to_cut = sum(want.total for want in job.wants) - unmet
    rooms = _by_reel(job, job.slots)
    needed = _fewest(rooms, to_cut)
    if unmet:
        return needed
    lengths = {want.length for want in job.wants if not want.is_loose}
    counts = (_fewest(*_count_of(job, length)) for length in lengths)
    return max((needed, *counts))


def _count_of(job: Job, least: int) -> tuple[list[int], int]:
    """Return how many pieces of at least this length each reel gives, and how many are asked."""
    asked = sum(want.count for want in job.wants if not want.is_loose and want.length >= least)
    return _by_reel(job, [slot // least for slot in job.slots]), asked


def _by_reel(job: Job, values: Sequence[int]) -> list[int]:
    sums = [0] * (max(job.reel_of, default=-1) + 1)
    for reel, value in zip(job.reel_of, values, strict=True):
        sums[reel] += value
    return sums


def _fewest(rooms: Iterable[int], needed: int) -> int:
    """Return how many of the rooms, the largest first, reach what is needed; all if none do."""
    if needed <= 0:
        return 0
    reached = list(accumulate(sorted(rooms, reverse=True)))
    return 1 + sum(1 for room in reached[:-1] if room < needed)


def _can_be_met(job: Job, want: Want) -> bool:
    return _least_missing(job, want) == 0


def _least_missing(job: Job, want: Want) -> int:
    """Return what of one want cannot be met with the whole stock to itself."""
    least = want.part if want.is_loose else want.length
    rooms = [
        (slot if want.is_loose else slot // least * least) if slot >= least else 0
        for slot in job.slots
    ]
    if want.groups is None:
        return max(want.total - sum(rooms), 0)
    by_group: dict[int, int] = {}
    for group, room in zip(want.groups, rooms, strict=True):
        if group != NOWHERE:
            by_group[group] = by_group.get(group, 0) + room
    # Pieces that belong together are cut all or not at all.
    return 0 if max(by_group.values(), default=0) >= want.total else want.total


def _least_left(job: Job, place: int) -> int:
    room = job.slots[place]
    wants = [want for want in job.wants if want.may_use(place)]
    if any(want.is_loose and want.part <= room for want in wants):
        return 0
    lengths = [
        want.length
        for want in wants
        if not want.is_loose and want.length <= room
        for _ in range(min(want.count, room // want.length))
    ]
    highest = SubsetSums.of(lengths, most=room).highest(allowed=up_to(room))
    return room - (highest or 0)
