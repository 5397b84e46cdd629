"""First layouts of a cutting job: lines that stay together first, then the rest piece by piece.

Each way is plain and repeatable; which is best of them is decided by whoever compares them.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence

from inventory.rules.cutting_job import NOWHERE, Layout
from inventory.rules.subset_sums import SubsetSums, up_to

GroupKey = Callable[[Sequence[int], Layout], tuple[int, ...]]


def oldest(slots: Sequence[int], layout: Layout) -> tuple[int, ...]:
    """Prefer the group of the oldest reel."""
    del layout
    return (min(slots),)


def tightest(slots: Sequence[int], layout: Layout) -> tuple[int, ...]:
    """Prefer the group with the least rope free."""
    return sum(layout.left[slot] for slot in slots), min(slots)


def roomiest(slots: Sequence[int], layout: Layout) -> tuple[int, ...]:
    """Prefer the group with the most rope free."""
    return -sum(layout.left[slot] for slot in slots), min(slots)


def place_together(layout: Layout, *, prefer: GroupKey) -> None:
    """Place the wants whose pieces share a reel or heats, all of a want or nothing of it."""
    wants = layout.job.wants
    bound = [number for number, want in enumerate(wants) if want.groups is not None]
    for number in sorted(bound, key=lambda n: (-wants[n].total, n)):
        for slots in sorted(_groups(layout, number), key=lambda s: prefer(s, layout)):
            tried = layout.copy()
            _fill_group(tried, number, slots)
            if not tried.missing[number]:
                layout.left, layout.missing, layout.pieces = tried.left, tried.missing, tried.pieces
                break


def first_fit(layout: Layout, *, wants: Iterable[int]) -> None:
    """Give each piece the first slot it fits, the oldest reel first."""
    for want, length in _pieces(layout, wants):
        fits = (slot for slot, left in enumerate(layout.left) if left >= length)
        slot = next(fits, None)
        if slot is not None:
            layout.put(want, slot, length)


def best_fit(layout: Layout, *, wants: Iterable[int], minds_remnant: bool) -> None:
    """Give each piece the slot, of a reel cut already if possible, that it leaves least of.

    With `minds_remnant` only slots in which nothing unusable is left.
    """
    for want, length in _pieces(layout, wants):
        opened = layout.opened()
        slots = [
            slot
            for slot, left in enumerate(layout.left)
            if left >= length and (not minds_remnant or not layout.job.unusable(left - length))
        ]
        if slots:
            key = _fit_key(layout, opened)
            layout.put(want, min(slots, key=key), length)


def fill_slots(
    layout: Layout, *, order: Callable[[int], tuple[int, ...]], longest_first: bool
) -> None:
    """Fill slot after slot as far as its pieces allow without leaving anything unusable.

    With `longest_first` the longest piece left that fits goes in whatever comes with it.
    """
    for slot in sorted(range(len(layout.left)), key=order):
        rest: Sequence[tuple[int, int]] = list(_pieces(layout, _movable(layout)))
        if not rest:
            return
        if _finish(layout, rest):
            return
        if longest_first:
            rest = _seeded(layout, slot, rest)
        _fill(layout, slot, rest)


def place_loose(layout: Layout) -> None:
    """Cut lines in any lengths: what would be unusable first, then reels cut already, then more."""
    for number, want in enumerate(layout.job.wants):
        if want.is_loose and want.groups is None:
            _fill_loose(layout, number, range(len(layout.left)))


def _movable(layout: Layout) -> Iterator[int]:
    """Yield the wants for single lengths that share nothing, the longest first."""
    wants = layout.job.wants
    numbers = [n for n in range(len(wants)) if layout.is_movable(n)]
    yield from sorted(numbers, key=lambda n: (-wants[n].length, n))


def _pieces(layout: Layout, wants: Iterable[int]) -> Iterator[tuple[int, int]]:
    for number in wants:
        length = layout.job.wants[number].length
        for _ in range(layout.missing[number] // length):
            yield number, length


def _fit_key(layout: Layout, opened: set[int]) -> Callable[[int], tuple[int, ...]]:
    reel_of = layout.job.reel_of
    return lambda slot: (reel_of[slot] not in opened, layout.left[slot], slot)


def _finish(layout: Layout, rest: Sequence[tuple[int, int]]) -> bool:
    """Place all that is left in the oldest slot that takes it and leaves nothing unusable."""
    total = sum(length for _, length in rest)
    for slot, left in enumerate(layout.left):
        if left >= total and not layout.job.unusable(left - total):
            for want, length in rest:
                layout.put(want, slot, length)
            return True
    return False


def _seeded(
    layout: Layout, slot: int, rest: Sequence[tuple[int, int]]
) -> Sequence[tuple[int, int]]:
    """Place the longest piece that leaves something useful, alone; return the other pieces."""
    left, job = layout.left[slot], layout.job
    for place, (want, length) in enumerate(rest):
        if length <= left:
            lengths = [other for _, other in rest[place + 1 :]]
            spare = left - length
            sums = SubsetSums.of(lengths, most=spare, only_most=True)
            if sums.highest(allowed=(1 << spare) | up_to(spare - job.shortest)) is None:
                return rest
            layout.put(want, slot, length)
            return [*rest[:place], *rest[place + 1 :]]
    return rest


def _fill(layout: Layout, slot: int, rest: Sequence[tuple[int, int]]) -> None:
    left, shortest = layout.left[slot], layout.job.shortest
    sums = SubsetSums.of([length for _, length in rest], most=left, only_most=True)
    allowed = (1 << left) | up_to(left - shortest)
    # A stub that is unusable as it is cannot become worse.
    best = sums.highest(allowed=allowed if left >= shortest else up_to(left))
    for place in sums.parts_of(best or 0):
        layout.put(rest[place][0], slot, rest[place][1])


def _groups(layout: Layout, number: int) -> list[list[int]]:
    groups = layout.job.wants[number].groups or ()
    found: dict[int, list[int]] = {}
    for slot, group in enumerate(groups):
        if group != NOWHERE:
            found.setdefault(group, []).append(slot)
    return list(found.values())


def _fill_group(layout: Layout, number: int, slots: Sequence[int]) -> None:
    want = layout.job.wants[number]
    if want.is_loose:
        _fill_loose(layout, number, slots)
        return
    for slot in sorted(slots, key=lambda s: (layout.left[s], s)):
        for _ in range(min(layout.left[slot], layout.missing[number]) // want.length):
            layout.put(number, slot, want.length)


def _fill_loose(layout: Layout, number: int, slots: Iterable[int]) -> None:
    opened = layout.opened()
    job = layout.job
    ordered = sorted(
        slots,
        key=lambda s: (
            not job.unusable(layout.left[s]),
            job.reel_of[s] not in opened,
            -layout.left[s],
            s,
        ),
    )
    for slot in ordered:
        amount = _loose_amount(layout, number, slot)
        if amount:
            layout.put(number, slot, amount)


def _loose_amount(layout: Layout, number: int, slot: int) -> int:
    """Return how much to take of a slot, leaving it and the rest of the want fit to be cut."""
    least, missing = layout.job.wants[number].part, layout.missing[number]
    left = layout.left[slot]

    def is_fit(amount: int) -> bool:
        return least <= amount <= min(left, missing) and (
            missing == amount or missing - amount >= least
        )

    tried = (min(left, missing), left - layout.job.shortest, missing - least)
    fit = [amount for amount in tried if is_fit(amount)]
    clean = [amount for amount in fit if not layout.job.unusable(left - amount)]
    return max(clean or fit, default=0)
