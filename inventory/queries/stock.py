"""What is left on the reels, in which lengths, and which reel can give a length asked for.

Metres under hold are left over but not clear: they cannot be cut until the hold is released.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db.models import BigIntegerField, F, Q, QuerySet, Sum
from django.db.models.functions import Coalesce

from inventory.models import CutPiece, Reel
from inventory.queries.held import held_reels
from inventory.queries.holds import held_stretches
from inventory.queries.stretches import without
from inventory.rules.lengths import can_give_single, nearest_single
from inventory.rules.metres import Balance, Stretch, balance, free_stretches


@dataclass(frozen=True, slots=True)
class StockReel:
    """A reel with what is left on it, in mm.

    `longest_free_mm` is the longest single length left, `longest_clear_mm` the longest that is
    not under hold; `is_held` tells that some of what is left is under hold.
    """

    reel: Reel
    remaining_mm: int
    longest_free_mm: int
    is_held: bool
    longest_clear_mm: int


@dataclass(frozen=True, slots=True)
class LengthOffer:
    """The reels that can give a single length, tightest fit first.

    `longest` is the reel that can give the longest single length of this rope, which is the
    nearest to be had when `reels` is empty; None when nothing of it is clear.
    """

    reels: tuple[StockReel, ...]
    longest: StockReel | None


def reels_in_stock(
    *,
    designation: str = "",
    construction: str = "",
    diameter_nm: int | None = None,
    location: str = "",
) -> list[StockReel]:
    """Return the reels with something left on them, by rope and code; "" or None: no filter."""
    asked = {
        "designation": designation,
        "construction": construction,
        "diameter_nm": diameter_nm,
        "location": location,
    }
    reels = with_something_left().filter(
        **{name: value for name, value in asked.items() if value not in {"", None}}
    )
    return stock_of(list(reels.order_by("diameter_nm", "designation", "code")))


def stock_of(reels: Sequence[Reel]) -> list[StockReel]:
    """Return what is left on each of these reels, in the order given, in two queries."""
    taken = _taken_by_reel(reels)
    held = held_reels()
    return [_stock(reel, taken[reel.pk], held.get(reel.pk, [])) for reel in reels]


def reels_for_length(*, designation: str, length_mm: int) -> LengthOffer:
    """Return which reels of a rope can give this length as one, and the longest to be had.

    Args:
        designation: the canonical text, as it stands on the reel.
        length_mm: the single length asked for.

    """
    reels = list(with_something_left().filter(designation=designation).order_by("code"))
    taken, held = _taken_by_reel(reels), held_reels()
    fits: list[tuple[int, StockReel]] = []
    stock: list[StockReel] = []
    for reel in reels:
        cut, under_hold = taken[reel.pk], held.get(reel.pk, [])
        stock.append(_stock(reel, cut, under_hold))
        clear = without(free_stretches(reel.length_mm, cut), under_hold)
        fit = can_give_single(length_mm, clear)
        if fit is not None:
            fits.append((fit.length_mm, stock[-1]))
    clear_stock = [entry for entry in stock if entry.longest_clear_mm > 0]
    return LengthOffer(
        reels=tuple(entry for _, entry in sorted(fits, key=lambda fit: fit[0])),
        longest=max(clear_stock, key=lambda entry: entry.longest_clear_mm, default=None),
    )


def reel_balance(reel: Reel) -> Balance:
    """Return what became of the reel's length, by purpose of the cuts."""
    cuts = CutPiece.objects.filter(reel=reel, is_reversed=False)
    return balance(
        reel.length_mm,
        (
            (purpose, Stretch(from_mm, to_mm))
            for purpose, from_mm, to_mm in cuts.values_list("purpose", "from_mm", "to_mm")
        ),
    )


def free_on_reel(reel: Reel) -> list[Stretch]:
    """Return what is left on the reel, under hold or not, in order."""
    return free_stretches(reel.length_mm, _taken_by_reel([reel])[reel.pk])


def clear_on_reel(reel: Reel) -> list[Stretch]:
    """Return what is left on the reel and not under hold, in order."""
    return without(free_on_reel(reel), held_stretches(reel))


def with_something_left() -> QuerySet[Reel]:
    """Return the reels from which not every metre was cut, with their mills."""
    cut_mm = Sum(F("cuts__to_mm") - F("cuts__from_mm"), filter=Q(cuts__is_reversed=False))
    reels = Reel.objects.annotate(cut_mm=Coalesce(cut_mm, 0, output_field=BigIntegerField()))
    return reels.filter(cut_mm__lt=F("length_mm")).select_related("mill")


def _stock(reel: Reel, taken: Iterable[Stretch], held: Sequence[Stretch]) -> StockReel:
    free = free_stretches(reel.length_mm, taken)
    return StockReel(
        reel=reel,
        remaining_mm=sum(stretch.length_mm for stretch in free),
        longest_free_mm=nearest_single(free),
        is_held=any(left.overlaps(stretch) for left in free for stretch in held),
        longest_clear_mm=nearest_single(without(free, held)),
    )


def _taken_by_reel(reels: Iterable[Reel]) -> Mapping[int, list[Stretch]]:
    found: defaultdict[int, list[Stretch]] = defaultdict(list)
    cuts = CutPiece.objects.filter(reel__in=[reel.pk for reel in reels], is_reversed=False)
    for reel_id, from_mm, to_mm in cuts.values_list("reel_id", "from_mm", "to_mm"):
        found[reel_id].append(Stretch(from_mm, to_mm))
    return found
