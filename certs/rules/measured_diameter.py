"""Whether a reel's rope measures what it should: the mean diameter, and how even it is.

Which limits apply is the caller's choice; they come from `tolerance`. The readings are compared
as they are, never rounded first.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from certs.rules.derived import Derived, Gap, Given, Source, trimmed
from certs.rules.finding import Finding, Verdict, against
from certs.rules.tolerance import BELOW_TWO, DiameterLimits
from inventory.rules.refusal import Refusal

DIAMETER_TOPIC = "Measured diameter"
DIFFERENCE_TOPIC = "Difference between readings"
MEASURED = Source(
    name="our own readings over the crowns, two at right angles in each of two places",
    confidence="measured",
)
NOT_MEASURED = "The diameter was not measured."
NO_PUBLISHED_LIMIT = "no published limit below 2 mm: agreed value needed"
EXACT = "none: exact"
# Own decision, to catch a slip of the unit: a rope this far from its size is another rope.
LARGEST_DEVIATION = Decimal("0.5")
_NM_PER_MM = 10**6


@dataclass(frozen=True, slots=True)
class Readings:
    """Four diameters in nm: places 1 and 2, directions a and b."""

    place1_a_nm: int
    place1_b_nm: int
    place2_a_nm: int
    place2_b_nm: int

    @property
    def all_nm(self) -> tuple[int, int, int, int]:
        """Give the readings in their order."""
        return (self.place1_a_nm, self.place1_b_nm, self.place2_a_nm, self.place2_b_nm)

    @property
    def by_field(self) -> dict[str, int]:
        """Give the readings by their names."""
        return dict(zip(FIELDS, self.all_nm, strict=True))

    @property
    def mean(self) -> Derived:
        """Give the mean in mm, exactly."""
        exact_mm = Decimal(sum(self.all_nm)) / 4 / _NM_PER_MM
        return Derived(
            quantity="mean measured diameter",
            symbol="dm",
            formula="dm = (d1a + d1b + d2a + d2b) / 4",
            inputs=tuple(
                Given(symbol, f"reading {words}", _mm(reading_nm), "mm")
                for symbol, words, reading_nm in zip(_SYMBOLS, _PLACES, self.all_nm, strict=True)
            ),
            source=MEASURED,
            unrounded=exact_mm,
            stated=Decimal(trimmed(exact_mm)),
            unit="mm",
            rounding=EXACT,
            basis="mean of four readings",
        )

    @property
    def difference(self) -> Derived:
        """Give the largest reading less the smallest in mm, exactly."""
        largest, smallest = max(self.all_nm), min(self.all_nm)
        exact_mm = Decimal(largest - smallest) / _NM_PER_MM
        return Derived(
            quantity="difference between readings",
            symbol="Δd",
            formula="Δd = dmax - dmin",
            inputs=(
                Given("dmax", "largest reading", _mm(largest), "mm"),
                Given("dmin", "smallest reading", _mm(smallest), "mm"),
            ),
            source=MEASURED,
            unrounded=exact_mm,
            stated=Decimal(trimmed(exact_mm)),
            unit="mm",
            rounding=EXACT,
            basis="largest and smallest of four readings",
        )


FIELDS = ("place1_a_nm", "place1_b_nm", "place2_a_nm", "place2_b_nm")
_SYMBOLS = ("d1a", "d1b", "d2a", "d2b")
_PLACES = ("1, across", "1, at right angles", "2, across", "2, at right angles")


def whole_readings(readings_nm: Mapping[str, int | None]) -> Readings | None:
    """Give the four readings by the names of `Readings`, or None where none was taken.

    Raises Refusal where some were taken and others not: fewer than four say nothing of a rope.
    """
    missing = [name for name in FIELDS if readings_nm.get(name) is None]
    if len(missing) == len(FIELDS):
        return None
    if missing:
        message = "Give all four readings, two at right angles in each of two places, or none."
        raise Refusal(message, field=missing[0])
    return Readings(*(readings_nm[name] or 0 for name in FIELDS))


def check_readings(readings: Readings, *, nominal_nm: int) -> None:
    """Refuse readings that no rope of this size can give; raises Refusal."""
    for name, reading_nm in zip(FIELDS, readings.all_nm, strict=True):
        if abs(Decimal(reading_nm) / nominal_nm - 1) > LARGEST_DEVIATION:
            message = (
                f"A reading of {_mm(reading_nm)} mm is no diameter of a rope of"
                f" {_mm(nominal_nm)} mm; check the reading and its unit."
            )
            raise Refusal(message, field=name)


def diameter_finding(readings: Readings | None, limits: DiameterLimits | Gap) -> Finding:
    """Compare the mean with the limits of the diameter."""
    if isinstance(limits, Gap):
        is_below_two = limits.reason == BELOW_TWO
        rule = NO_PUBLISHED_LIMIT if is_below_two else "mean of four readings within the limits"
        derived = (readings.mean,) if readings else ()
        told = f"Measured {readings.mean.text}." if readings else NOT_MEASURED
        return _unknown(DIAMETER_TOPIC, f"{told} {limits.reason}", rule, limits, derived)
    rule = f"mean of four readings from {limits.lowest.text} to {limits.highest.text}"
    sides = (limits.lowest, limits.highest)
    if readings is None:
        text = NOT_MEASURED
        return Finding(DIAMETER_TOPIC, Verdict.CANNOT_SAY, text, rule, limits.source, derived=sides)
    is_met = limits.contains(readings.mean.unrounded)
    is_provisional = limits.source.is_provisional
    within = "within" if is_met else "outside"
    return Finding(
        topic=DIAMETER_TOPIC,
        verdict=against(is_met=is_met, is_provisional=is_provisional),
        text=(
            f"Measured {readings.mean.text}: {within} the limits {limits.lowest.text} to"
            f" {limits.highest.text}."
        ),
        rule=rule,
        source=limits.source,
        derived=(readings.mean, *sides),
    )


def difference_finding(readings: Readings | None, limits: DiameterLimits | Gap) -> Finding:
    """Compare the largest difference of two readings with what the standard allows."""
    allowed = limits if isinstance(limits, Gap) else limits.difference
    rule = "difference between any two readings"
    if isinstance(allowed, Gap):
        told = f"The readings differ by {readings.difference.text}." if readings else NOT_MEASURED
        derived = (readings.difference,) if readings else ()
        return _unknown(DIFFERENCE_TOPIC, f"{told} {allowed.reason}", rule, allowed, derived)
    rule = f"{rule} at most {allowed.text}"
    if readings is None:
        return Finding(
            DIFFERENCE_TOPIC,
            Verdict.CANNOT_SAY,
            NOT_MEASURED,
            rule,
            allowed.source,
            derived=(allowed,),
        )
    is_met = readings.difference.unrounded <= allowed.stated
    more = "no more" if is_met else "more"
    return Finding(
        topic=DIFFERENCE_TOPIC,
        verdict=against(is_met=is_met, is_provisional=allowed.source.is_provisional),
        text=f"The readings differ by {readings.difference.text}, {more} than {allowed.text}.",
        rule=rule,
        source=allowed.source,
        derived=(readings.difference, allowed),
    )


def _unknown(topic: str, text: str, rule: str, gap: Gap, derived: tuple[Derived, ...]) -> Finding:
    source = gap.source or Source(name="table of diameter limits", confidence="gap")
    return Finding(topic, Verdict.CANNOT_SAY, text, rule, source, derived=derived)


def _mm(value_nm: int) -> str:
    return trimmed(Decimal(value_nm) / _NM_PER_MM)
