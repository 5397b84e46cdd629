"""The working load limit marked on a sling: for which legs it stands, and in which words.

A mark is given once, for the first band of angles that the sling is rated in; it may lie below
what governs there, never above, and nothing heavier is lifted at any angle. Whether a load may
be marked for other bands is looked up with `marked_load`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from certs.rules.derived import plain, trimmed
from certs.rules.load_text import FIELD
from certs.rules.sling_legs import AngleConvention, LegFactor
from certs.rules.us_rating import KG_PER_LB
from certs.rules.working_load import Rating, check_marked
from inventory.rules.refusal import Refusal

QUANTITY: Final = "working load limit marked"
NOT_RATED: Final = (
    "It has no working load limit on record, and so none may be marked: leave the mark out."
)
_KG_PER_T: Final = 1000


@dataclass(frozen=True, slots=True)
class StatedMark:
    """A mark in whole kg beside the rating of the first band, by one convention."""

    marked_kg: int
    legs: LegFactor
    rating: Rating

    @property
    def marked_t(self) -> Decimal:
        """Give the mark in tonnes, exactly."""
        return Decimal(self.marked_kg) / _KG_PER_T

    @property
    def stated(self) -> str:
        """Write the mark in tonnes with no digit more than it has."""
        return trimmed(self.marked_t)

    @property
    def refusal(self) -> str:
        """Say why it may not be marked; empty where it may."""
        try:
            check_marked(self.marked_t, self.rating)
        except Refusal as refusal:
            return refusal.message
        return ""

    @property
    def place(self) -> str:
        """Name the legs and angles that the mark is for."""
        if self.legs.from_deg is None or self.legs.to_deg is None:
            return f"for {self.legs.text}"
        band = f"{trimmed(self.legs.from_deg)} to {trimmed(self.legs.to_deg)}"
        return f"at {band} degrees from the {self.legs.convention.line}"

    @property
    def text(self) -> str:
        """Say it in one sentence, without the last full stop."""
        return f"{QUANTITY.capitalize()}: {self.stated} t, {self._beside}"

    @property
    def words(self) -> str:
        """Say what stands beside the bare load, in whole sentences without the last full stop."""
        return f"{self._beside[:1].upper()}{self._beside[1:]}. {self.note}"

    @property
    def note(self) -> str:
        """Name the convention, and say that the mark bounds every angle."""
        return f"{self.legs.convention.words}. {self._bound}"

    @property
    def _beside(self) -> str:
        return f"{self.place}; derived {plain(self.rating.governing_t)} t"

    @property
    def _bound(self) -> str:
        where = "" if self.legs.from_deg is None else " at any angle"
        heavier = f"Nothing heavier than the mark{where}, even where more is derived"
        if self.legs.convention is not AngleConvention.FROM_HORIZONTAL:
            return heavier
        return f"{heavier}. In pounds, rounded down: {self._pounds} lb"

    @property
    def _pounds(self) -> int:
        return int(Decimal(self.marked_kg) / KG_PER_LB)


def stated_mark(marked_kg: int, ratings: Sequence[tuple[LegFactor, Rating]]) -> StatedMark | None:
    """Put a mark beside the first rating, checked or not; None where nothing is rated."""
    return StatedMark(marked_kg, *ratings[0]) if ratings else None


def check_mark(marked_kg: int, ratings: Sequence[tuple[LegFactor, Rating]]) -> StatedMark:
    """Give a mark that may stand.

    Raises MarkedTooHigh above what governs the first band, Refusal for no rating, or no load.
    """
    mark = stated_mark(marked_kg, ratings)
    if mark is None:
        raise Refusal(NOT_RATED, field=FIELD)
    check_marked(mark.marked_t, mark.rating)
    return mark
