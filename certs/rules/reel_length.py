"""How much rope a reel holds, told without unwinding it: by mass, or by the winding on its drum.

Each way gives the least and the most that the reading allows, for the diameter of a rope lies
between limits, and wires lie on a drum between two packings. The ledger is never changed by it.
"""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from itertools import combinations
from typing import Final

from certs.rules.breaking_force import HALF_UP
from certs.rules.derived import Derived, Given, Source, plain, round_half_up, trimmed
from certs.rules.tolerance import DiameterLimits

GEOMETRY: Final = Source(
    name="derived geometry: rope of diameter d lies in squares at the loosest, in hexagons at the "
    "closest",
    confidence="derived",
)
PROPORTION: Final = Source(
    name="derived: rope of the same build weighs in proportion to the square of its diameter",
    confidence="derived",
)
WEIGHING: Final = Source(name="derived: mass by mass per length", confidence="derived")
NO_LIMITS: Final = (
    "No limits of the diameter are held for this rope, so the nominal one is taken: a reading "
    "beyond these bounds proves nothing."
)
BY_NOMINAL: Final = "by the nominal diameter"

_PI: Final = Decimal("3.14159265358979323846")
_MM_PER_M: Final = 1000
_PERCENT_PLACE: Final = Decimal("0.1")


class Method(StrEnum):
    """A way of telling what is left."""

    LEDGER = "ledger"
    MASS = "mass"
    DRUM = "drum"


@dataclass(frozen=True, slots=True)
class Drum:
    """Diameter of the barrel, width between the flanges, diameter over the winding; in mm."""

    barrel_mm: int
    traverse_mm: int
    wound_mm: int


@dataclass(frozen=True, slots=True)
class LengthEstimate:
    """The least and the most that a reading allows, in m; `is_bounded` where limits are known.

    `named` says on what it rests, such as the mass per length that was taken.
    """

    method: Method
    named: str
    low: Derived
    high: Derived
    is_bounded: bool


@dataclass(frozen=True, slots=True)
class Agreement:
    """Two ways compared: by how much the first says more, at least and at most, in mm and percent.

    Percent of the second one's greatest length. `is_consistent` is None where nothing can be said.
    """

    first: str
    second: str
    least_mm: int
    most_mm: int
    least_percent: Decimal
    most_percent: Decimal
    is_consistent: bool | None


@dataclass(frozen=True, slots=True)
class _Span:
    """What one way says, in mm; bounded where what lies outside is ruled out."""

    named: str
    low_mm: Fraction
    high_mm: Fraction
    is_bounded: bool


def length_by_mass(
    *, gross_g: int, tare_g: int, mass: Derived, nominal_mm: Decimal, limits: DiameterLimits | None
) -> LengthEstimate:
    """Tell the length by weighing: net mass over the rope's mass in kg per 100 m.

    Rope at its greatest diameter is heavier than nominal, and so there is less of it.
    """
    length = _metres(
        Decimal(gross_g - tare_g) / 10 / mass.stated,
        quantity="length by mass",
        formula="L = 100 (G - T) / M",
        inputs=(
            Given("G", "mass of reel and rope", _kilograms(gross_g), "kg"),
            Given("T", "mass of the empty reel", _kilograms(tare_g), "kg"),
            Given("M", mass.basis, plain(mass.stated), mass.unit, mass.source),
        ),
        source=WEIGHING,
        basis=mass.basis,
        rests_on=(mass,),
    )
    named = f"by mass, {mass.basis}"
    if limits is None:
        return LengthEstimate(Method.MASS, named, length, length, is_bounded=False)
    low, high = (
        _at_diameter(length, nominal_mm=nominal_mm, limit=limit)
        for limit in (limits.highest, limits.lowest)
    )
    return LengthEstimate(Method.MASS, named, low, high, is_bounded=True)


def length_by_drum(
    drum: Drum, *, nominal_mm: Decimal, limits: DiameterLimits | None
) -> LengthEstimate:
    """Tell the length by the room that the winding takes between barrel, flanges and outside.

    Least: thick rope in square packing. Most: thin rope in hexagonal packing, 2/√3 times as much.
    """
    thick, thin = (limits.max_mm, limits.min_mm) if limits else (nominal_mm, nominal_mm)
    sources = (limits.highest.source, limits.lowest.source) if limits else (None, None)
    return LengthEstimate(
        Method.DRUM,
        "by drum and winding",
        _wound(drum, diameter=thick, diameter_source=sources[0], is_close=False),
        _wound(drum, diameter=thin, diameter_source=sources[1], is_close=True),
        is_bounded=limits is not None,
    )


def agreements(*, ledger_mm: int, estimates: tuple[LengthEstimate, ...]) -> tuple[Agreement, ...]:
    """Compare the ledger with each reading, and the readings with each other."""
    ledger = _Span("the ledger", Fraction(ledger_mm), Fraction(ledger_mm), is_bounded=True)
    spans = (ledger, *map(_span, estimates))
    return tuple(_compare(first, second) for first, second in combinations(spans, 2))


def _compare(first: _Span, second: _Span) -> Agreement:
    least, most = first.low_mm - second.high_mm, first.high_mm - second.low_mm
    whole = second.high_mm or Fraction(1)
    can_say = first.is_bounded and second.is_bounded
    return Agreement(
        first=first.named,
        second=second.named,
        least_mm=round(least),
        most_mm=round(most),
        least_percent=_percent(least / whole),
        most_percent=_percent(most / whole),
        is_consistent=True if least <= 0 <= most else (False if can_say else None),
    )


def _span(estimate: LengthEstimate) -> _Span:
    low, high = (Fraction(one.unrounded) * _MM_PER_M for one in (estimate.low, estimate.high))
    return _Span(estimate.named, low, high, estimate.is_bounded)


def _at_diameter(length: Derived, *, nominal_mm: Decimal, limit: Derived) -> Derived:
    return _metres(
        length.unrounded * nominal_mm**2 / limit.stated**2,
        quantity=f"{length.quantity}, {limit.quantity}",
        formula="L = N d² / x²",
        inputs=(
            Given("N", f"{length.quantity} {BY_NOMINAL}", trimmed(length.unrounded), "m"),
            Given("d", "nominal diameter", trimmed(nominal_mm), "mm"),
            Given("x", limit.quantity, trimmed(limit.stated), limit.unit, limit.source),
        ),
        source=PROPORTION,
        basis=length.basis,
        rests_on=(length,),
    )


def _wound(
    drum: Drum, *, diameter: Decimal, diameter_source: Source | None, is_close: bool
) -> Derived:
    room = _PI * (drum.wound_mm**2 - drum.barrel_mm**2) * drum.traverse_mm
    square = room / (4 * diameter**2) / _MM_PER_M
    closer = " × 2 / √(3)" if is_close else ""
    return _metres(
        square * 2 / Decimal(3).sqrt() if is_close else square,
        quantity=f"length by drum, {'hexagonal' if is_close else 'square'} packing",
        formula=f"L = π (D² - B²) W / (4 d²) / 1000{closer}",
        inputs=(
            Given("D", "diameter over the winding", str(drum.wound_mm), "mm"),
            Given("B", "diameter of the barrel", str(drum.barrel_mm), "mm"),
            Given("W", "width between the flanges", str(drum.traverse_mm), "mm"),
            Given("d", "diameter of the rope", trimmed(diameter), "mm", diameter_source),
        ),
        source=GEOMETRY,
        basis="the winding is full from flange to flange and level on top",
        remarks=() if diameter_source else (NO_LIMITS,),
    )


def _metres(  # noqa: PLR0913 -- the parts of a derivation, by name
    metres: Decimal,
    *,
    quantity: str,
    formula: str,
    inputs: tuple[Given, ...],
    source: Source,
    basis: str,
    rests_on: tuple[Derived, ...] = (),
    remarks: tuple[str, ...] = (),
) -> Derived:
    return Derived(
        quantity=quantity,
        symbol="L",
        formula=formula,
        inputs=inputs,
        source=source,
        unrounded=metres,
        # Nought has no figures to round to.
        stated=round_half_up(metres) if metres else Decimal(0),
        unit="m",
        rounding=HALF_UP,
        basis=basis,
        rests_on=rests_on,
        remarks=remarks,
    )


def _kilograms(mass_g: int) -> str:
    return trimmed(Decimal(mass_g) / 1000)


def _percent(share: Fraction) -> Decimal:
    return (Decimal(share.numerator) / share.denominator * 100).quantize(_PERCENT_PLACE)
