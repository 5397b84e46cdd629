"""Which length serves a demand: tolerances of a piece, and one single length out of what is free.

Rope is supplied as one length unless asked otherwise (common practice, no source); whether an
order asks otherwise is the order's own statement.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal


@dataclass(frozen=True, slots=True)
class LengthDemand:
    """A length asked for, with how much shorter or longer it may turn out, both given unsigned."""

    length_mm: int
    tolerance_minus_mm: int = 0
    tolerance_plus_mm: int = 0

    def __post_init__(self) -> None:
        """Refuse a demand that nothing, or a piece of no length, would satisfy."""
        if self.length_mm <= 0:
            message = "The length asked for must be at least 1 mm."
            raise Refusal(message, field="length_mm")
        if min(self.tolerance_minus_mm, self.tolerance_plus_mm) < 0:
            message = "Give both tolerances without a sign; neither can be less than nothing."
            raise Refusal(message, field="tolerance_minus_mm")
        if self.tolerance_minus_mm >= self.length_mm:
            message = "The minus tolerance must be less than the length itself."
            raise Refusal(message, field="tolerance_minus_mm")

    def accepts(self, actual_mm: int) -> bool:
        """Tell whether a piece of this length satisfies the demand; both limits belong to it."""
        lowest_mm = self.length_mm - self.tolerance_minus_mm
        return lowest_mm <= actual_mm <= self.length_mm + self.tolerance_plus_mm


def can_give_single(length_mm: int, free: Iterable[Stretch]) -> Stretch | None:
    """Return the free stretch from which to cut one single length, or None when none is enough.

    The shortest that fits, so that long stretches stay long; nearest the free end on ties.
    """
    return min(
        (stretch for stretch in free if stretch.length_mm >= length_mm),
        key=lambda stretch: (stretch.length_mm, stretch.from_mm),
        default=None,
    )


def nearest_single(free: Iterable[Stretch]) -> int:
    """Return the longest single length that can be given, in mm; 0 when nothing is free."""
    return max((stretch.length_mm for stretch in free), default=0)
