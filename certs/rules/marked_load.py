"""Whether a load may be marked on a sling, and how far formula and printed table lie apart.

What governs is decided by `working_load`.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from certs.rules.derived import plain
from certs.rules.sling_legs import LegFactor
from certs.rules.working_load import Rating, check_marked
from inventory.rules.refusal import Refusal

TENTH: Final = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class MarkCheck:
    """A load in tonnes to be marked, held against one rating; `refusal` is empty where it may."""

    marked_t: Decimal
    legs: LegFactor
    governing_t: Decimal
    refusal: str

    @property
    def may_be_marked(self) -> bool:
        """Say whether the load may stand on the tag for these legs and angles."""
        return not self.refusal

    @property
    def text(self) -> str:
        """Say it in a sentence, with legs, angle and the load that governs."""
        if self.refusal:
            return f"{_first_upper(self.legs.text)}: {self.refusal}"
        return (
            f"{_first_upper(self.legs.text)}: {plain(self.marked_t)} t may be marked; "
            f"{plain(self.governing_t)} t governs."
        )


def mark_checks(
    marked_t: Decimal, ratings: Iterable[tuple[LegFactor, Rating]]
) -> tuple[MarkCheck, ...]:
    """Hold a load to be marked against each rating of an assembly."""
    return tuple(_checked(marked_t, legs, rating) for legs, rating in ratings)


def difference_pct(rating: Rating) -> Decimal | None:
    """Give (printed - formula) / formula in per cent, to a tenth; None without a printed value.

    The table of EN 13414-1:2003 was rounded both ways, by up to 2.4 %.
    """
    if rating.published is None:
        return None
    formula = rating.formula.unrounded
    share = 100 * (rating.published.wll_t - formula) / formula
    return share.quantize(TENTH, rounding=ROUND_HALF_UP)


def _checked(marked_t: Decimal, legs: LegFactor, rating: Rating) -> MarkCheck:
    try:
        check_marked(marked_t, rating)
    except Refusal as refusal:
        return MarkCheck(marked_t, legs, rating.governing_t, refusal.message)
    return MarkCheck(marked_t, legs, rating.governing_t, "")


def _first_upper(text: str) -> str:
    return text[:1].upper() + text[1:]
