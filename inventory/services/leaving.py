"""Decides which metres may leave a reel: free ones, not under hold, in one length.

What they leave for (a cut, a rewind) is decided by the service that asks. The reel must be
locked by then, or the answer may be out of date.
"""

from collections.abc import Sequence

from inventory.models import Hold, Reel
from inventory.queries.holds import holds_on_reel
from inventory.queries.stock import clear_on_reel, free_on_reel, reels_for_length
from inventory.rules.lengths import nearest_single
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres


def first_clear_stretch(reel: Reel, *, length_mm: int, refusal: type[Refusal]) -> Stretch:
    """The first metres from the free end that give this single length and are not under hold.

    Raises:
        Refusal: of the class given; names the longest length and a reel that can give this one.
    """
    for stretch in clear_on_reel(reel):
        if stretch.length_mm >= length_mm:
            return Stretch(stretch.from_mm, stretch.from_mm + length_mm)
    free = free_on_reel(reel)
    held = [stretch for stretch in free if stretch.length_mm >= length_mm]
    if held:
        refuse_if_held(
            holds_on_reel(reel, from_mm=held[0].from_mm, to_mm=held[0].to_mm),
            what=f"Reel {reel.code}",
            refusal=refusal,
        )
    raise refusal(_too_long(reel, length_mm=length_mm, free=free), field="length_mm")


def check_free(reel: Reel, stretch: Stretch, *, refusal: type[Refusal]) -> None:
    """Refuse metres past the end, or gone already.

    Raises:
        Refusal: of the class given.
    """
    if stretch.to_mm > reel.length_mm:
        message = (
            f"{stretch} passes the end of reel {reel.code} at {format_metres(reel.length_mm)}."
        )
        raise refusal(message, field="length_mm")
    free = free_on_reel(reel)
    if not any(f.from_mm <= stretch.from_mm and stretch.to_mm <= f.to_mm for f in free):
        left = "; ".join(str(f) for f in free) or "nothing"
        message = (
            f"{stretch} has left reel {reel.code} already, or part of it. Still on it: {left}."
        )
        raise refusal(message, field="from_mm")


def check_not_held(reel: Reel, stretch: Stretch, *, refusal: type[Refusal]) -> None:
    """Refuse metres under hold.

    Raises:
        Refusal: of the class given.
    """
    holds = holds_on_reel(reel, from_mm=stretch.from_mm, to_mm=stretch.to_mm)
    refuse_if_held(holds, what=f"{stretch} of reel {reel.code}, or part of it,", refusal=refusal)


def refuse_if_held(holds: Sequence[Hold], *, what: str, refusal: type[Refusal]) -> None:
    """Refuse when there is a hold; the sentence names it and its reason.

    Raises:
        Refusal: of the class given.
    """
    if holds:
        first = holds[0]
        message = (
            f"{what} is under hold {first.code}: {first.reason}."
            " Take other goods, or ask the QA officer to release the hold."
        )
        raise refusal(message)


def _too_long(reel: Reel, *, length_mm: int, free: Sequence[Stretch]) -> str:
    asked, longest = format_metres(length_mm), nearest_single(free)
    here = (
        f"Reel {reel.code} cannot give {asked} in one length; its longest is "
        f"{format_metres(longest)}."
        if longest
        else f"Nothing is left on reel {reel.code}."
    )
    offer = reels_for_length(designation=reel.designation, length_mm=length_mm)
    if offer.reels:
        return f"{here} Reel {offer.reels[0].reel.code} can give it."
    if offer.longest is None:
        return f"{here} No other reel of this rope has any left."
    nearest = format_metres(offer.longest.longest_clear_mm)
    return (
        f"{here} No reel of this rope can give it; the nearest is {nearest}"
        f" from reel {offer.longest.reel.code}."
    )
