"""How many legs share a load, at what angle, and what they carry together.

Every angle keeps its convention: European figures count from the vertical, American ones from
the horizontal. What one leg may carry is decided by `working_load`.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from certs.rules.derived import Derived, Given, Source, round_down, trimmed
from certs.rules.specification_row import decimal_or_none, source_of
from inventory.rules.refusal import Refusal

LARGEST_ANGLE_DEG = 60
SMALLEST_US_ANGLE_DEG = 30
UPRIGHT_DEG = 90
MOST_US_LEGS = 3
SINE_PLACES = 12
ROUNDED_DOWN = "three significant figures, down (own decision, safe side)"

LEG_FORMULA = Source("EN 13414-1, leg factors", "2003", "two-sources")
ANGLE_LIMIT = Source("EN 13414-1, largest angle", "", "memory")
US_ANGLES = Source("US rated-load tables formerly in 29 CFR 1910.184", "", "read")
US_SMALLEST_ANGLE = Source("US practice, smallest angle from the horizontal", "", "memory")


class AngleConvention(StrEnum):
    """From which line an angle is counted; kept with every angle."""

    FROM_VERTICAL = "from_vertical"
    FROM_HORIZONTAL = "from_horizontal"

    @property
    def line(self) -> str:
        """Name the line that angles are counted from."""
        return self.value.removeprefix("from_")

    @property
    def words(self) -> str:
        """Say by whose convention a load is rated, as it stands beside every load."""
        whose = "EN 13414-1" if self is AngleConvention.FROM_VERTICAL else "United States practice"
        return f"{whose}, angles counted from the {self.line}"


class LegArrangement(StrEnum):
    """How many legs share the load."""

    ONE_LEG = "one_leg"
    TWO_LEGS = "two_legs"
    THREE_LEGS = "three_legs"
    FOUR_LEGS = "four_legs"
    ENDLESS_CHOKE = "endless_choke"


@dataclass(frozen=True, slots=True)
class LegFactor:
    """A row of leg factors KL: for an arrangement, in a band of angles where one applies."""

    legs: LegArrangement
    from_deg: Decimal | None
    to_deg: Decimal | None
    convention: AngleConvention
    factor: Decimal
    source: Source

    @classmethod
    def read(cls, row: Mapping[str, str]) -> "LegFactor":
        """Read a row of the leg factor table."""
        return cls(
            legs=LegArrangement(row["legs"]),
            from_deg=decimal_or_none(row["from_deg"]),
            to_deg=decimal_or_none(row["to_deg"]),
            convention=AngleConvention(row["convention"]),
            factor=Decimal(row["leg_factor_KL"]),
            source=source_of(row),
        )

    @property
    def text(self) -> str:
        """Name arrangement, band and convention."""
        words = self.legs.value.replace("_", " ")
        if self.from_deg is None or self.to_deg is None:
            return words
        band = f"{trimmed(self.from_deg)} to {trimmed(self.to_deg)}"
        return f"{words}, {band} degrees from the {self.convention.line}"

    def covers(self, angle_deg: Decimal) -> bool:
        """Say whether an angle is in the band; a border belongs to the steeper one, as printed."""
        if self.from_deg is None or self.to_deg is None:
            return True
        is_first = self.from_deg == 0
        return (self.from_deg < angle_deg or is_first) and angle_deg <= self.to_deg


SINGLE_STRAIGHT = LegFactor(
    LegArrangement.ONE_LEG, None, None, AngleConvention.FROM_VERTICAL, Decimal(1), LEG_FORMULA
)


def leg_factor(
    legs: LegArrangement, *, angle_deg: Decimal = Decimal(0), rows: Iterable[LegFactor]
) -> LegFactor:
    """Give KL for legs at an angle in degrees from the VERTICAL.

    Raises Refusal above 60 degrees, below nought, and where no row is held.
    """
    if not 0 <= angle_deg <= LARGEST_ANGLE_DEG:
        message = (
            f"Legs may stand at 0 to {LARGEST_ANGLE_DEG} degrees from the vertical, "
            f"not at {trimmed(angle_deg)}. ({ANGLE_LIMIT.text})"
        )
        raise Refusal(message, field="angle")
    found = next((row for row in rows if row.legs == legs and row.covers(angle_deg)), None)
    if found is None:
        message = f"No leg factor is held for {legs.value.replace('_', ' ')}."
        raise Refusal(message, field="legs")
    return found


def us_rated_load(
    *, single_leg: Decimal, unit: str, legs: int, angle_from_horizontal_deg: Decimal
) -> Derived:
    """Give the American rated load of a bridle: legs x single leg x sin(h), rounded down.

    h is counted from the HORIZONTAL; the result is in the unit of the single leg. Legs beyond
    three are not counted. Raises Refusal for an angle outside 30 to 90 degrees, for no leg, and
    for a single leg that is not above nought.
    """
    if legs < 1 or single_leg <= 0:
        message = "A rated load needs at least one leg, and a load above nought for it."
        raise Refusal(message, field="legs")
    if not SMALLEST_US_ANGLE_DEG <= angle_from_horizontal_deg <= UPRIGHT_DEG:
        message = (
            f"Legs may stand at {SMALLEST_US_ANGLE_DEG} to {UPRIGHT_DEG} degrees from the "
            f"horizontal, not at {trimmed(angle_from_horizontal_deg)}. ({US_SMALLEST_ANGLE.text})"
        )
        raise Refusal(message, field="angle")
    counted = min(legs, MOST_US_LEGS)
    sine = sine_of(angle_from_horizontal_deg)
    unrounded = counted * single_leg * sine
    return Derived(
        quantity="rated load of a bridle",
        symbol="R",
        formula="R = n R1 s",
        inputs=(
            Given("n", f"legs counted of {legs}, three at most", str(counted), ""),
            Given("R1", "rated load of one leg, upright", trimmed(single_leg), unit),
            Given("s", "sine of the angle h", trimmed(sine), ""),
            Given(
                "h",
                AngleConvention.FROM_HORIZONTAL.value,
                trimmed(angle_from_horizontal_deg),
                "degrees from the horizontal",
            ),
        ),
        source=US_ANGLES,
        unrounded=unrounded,
        stated=round_down(unrounded),
        unit=unit,
        rounding=ROUNDED_DOWN,
        basis=AngleConvention.FROM_HORIZONTAL.value,
    )


def sine_of(angle_deg: Decimal) -> Decimal:
    """Give the sine of an angle in degrees, to twelve places, so that sin 30 is exactly a half."""
    return Decimal(str(round(math.sin(math.radians(float(angle_deg))), SINE_PLACES)))
