"""What a rating frozen in a paper comes to when a rope in it turns out weaker.

Every rating held is proportional to the force of the rope and to the efficiency of its end
(F KT KL / (Zp g), F KT), so the rest of the product is taken over as it was.
"""

from dataclasses import dataclass
from decimal import Decimal

from certs.rules.derived import round_down


@dataclass(frozen=True, slots=True)
class FrozenRating:
    """A rating as a paper states it: its value before rounding and as stated, in any unit.

    `force_kn` and `kt` are the force and the efficiency it was reached with.
    """

    unrounded: Decimal
    stated: Decimal
    force_kn: Decimal
    kt: Decimal


def lowered_rating(rating: FrozenRating, *, force_kn: Decimal, kt: Decimal) -> Decimal:
    """Give what the rating comes to with a rope of this force and its end, rounded down.

    Never more than was stated: a stronger rope than the one that governed changes nothing.
    """
    share = force_kn * kt / (rating.force_kn * rating.kt)
    return min(rating.stated, round_down(rating.unrounded * share))
