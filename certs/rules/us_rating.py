"""What an assembly may carry by American practice, with angles from the horizontal.

One leg carries its share by the coefficient of five; a bridle of up to three counted legs follows
from the sine of the flattest angle of a band. European ratings are left to `working_load`.
"""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from certs.rules.derived import Derived, Source, plain, round_down
from certs.rules.sling_legs import (
    MOST_US_LEGS,
    US_ANGLES,
    AngleConvention,
    LegArrangement,
    LegFactor,
    sine_of,
    us_rated_load,
)
from certs.rules.termination import Efficiency
from certs.rules.working_load import Coefficient, working_load
from inventory.rules.refusal import Refusal

EFFICIENCIES: Final = "US Army TM 5-3810-305-10"
US_COEFFICIENT: Final = Coefficient(
    Decimal(5), Source("United States sling practice, coefficient of five", "", "memory")
)
# The angles of the tables formerly in 29 CFR 1910.184: each is the flattest of its band.
BANDS_DEG: Final = ((60, 90), (45, 60), (30, 45))
KG_PER_LB: Final = Decimal("0.45359237")

_COUNT: Final[Mapping[LegArrangement, int]] = MappingProxyType(
    {
        LegArrangement.TWO_LEGS: 2,
        LegArrangement.THREE_LEGS: 3,
        LegArrangement.FOUR_LEGS: 4,
    }
)
ONE_UPRIGHT: Final = LegFactor(
    LegArrangement.ONE_LEG, None, None, AngleConvention.FROM_HORIZONTAL, Decimal(1), US_ANGLES
)


def us_leg_factors(legs: LegArrangement) -> tuple[LegFactor, ...]:
    """Give legs x sine for each band of angles, the steepest first.

    Legs beyond three are not counted. Raises Refusal for an endless sling: no American rating of
    one is held.
    """
    if legs is LegArrangement.ONE_LEG:
        return (ONE_UPRIGHT,)
    if legs not in _COUNT:
        message = (
            "No American rated load is held for an endless sling: enter it from your copy of the"
            " standard, or rate it under EN 13414-1."
        )
        raise Refusal(message, field="convention")
    counted = min(_COUNT[legs], MOST_US_LEGS)
    return tuple(
        LegFactor(
            legs,
            Decimal(flattest),
            Decimal(steepest),
            AngleConvention.FROM_HORIZONTAL,
            counted * sine_of(Decimal(flattest)),
            US_ANGLES,
        )
        for flattest, steepest in BANDS_DEG
    )


def us_leg_load(breaking_force: Derived, *, end: Efficiency) -> Derived:
    """Give the rated load of one upright leg in tonnes, rounded down.

    The coefficient of five is from memory, and so the load is provisional.
    """
    load = working_load(breaking_force, end=end, legs=ONE_UPRIGHT, coefficient=US_COEFFICIENT)
    return replace(load, remarks=(*load.remarks, in_pounds(load.stated)))


def us_load(one_leg: Derived, *, legs: LegFactor) -> Derived:
    """Give the rated load in tonnes of legs at the flattest angle of a band, rounded down.

    Raises Refusal for a band without angles that is not one leg.
    """
    if legs.legs is LegArrangement.ONE_LEG:
        return one_leg
    if legs.from_deg is None:
        raise Refusal("Several legs need an angle from the horizontal.", field="angle")
    load = us_rated_load(
        single_leg=one_leg.stated,
        unit=one_leg.unit,
        legs=_COUNT[legs.legs],
        angle_from_horizontal_deg=legs.from_deg,
    )
    remarks = (*load.remarks, in_pounds(load.stated))
    return replace(load, quantity="working load limit", rests_on=(one_leg,), remarks=remarks)


def in_pounds(load_t: Decimal) -> str:
    """Say a load in pounds, rounded down to three figures."""
    return f"In pounds, rounded down: {plain(pounds_of(load_t))} lb."


def pounds_of(load_t: Decimal) -> Decimal:
    """Give a load in pounds, rounded down to three figures; a pound is 0.45359237 kg exactly."""
    return round_down(load_t * 1000 / KG_PER_LB)
