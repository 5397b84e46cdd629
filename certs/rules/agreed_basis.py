"""What follows from a specification that two parties agreed on, where no standard is used.

The agreement names one rope; whether this is the rope is decided by the caller. An agreed factor
needs no class of rope: the parties answer for it.
"""

from dataclasses import dataclass
from decimal import Decimal, InvalidOperation

from certs.rules.breaking_force import AS_GIVEN, FACTOR_FORMULA, HALF_UP, QUANTITY
from certs.rules.derived import Derived, Given, Source, plain, round_half_up, trimmed
from certs.rules.length_mass import QUANTITY as MASS
from certs.rules.rope_match import NoBasis, metric_grade
from certs.rules.tolerance import DiameterLimits, agreed_limits
from inventory.rules.designation import RopeDesignation

FORCE_FACTORS_BETWEEN = (Decimal("0.1"), Decimal("0.7854"))
MASS_FACTORS_BETWEEN = (Decimal("0.1"), Decimal("0.7"))
LARGEST_DEVIATION_PCT = Decimal(20)


@dataclass(frozen=True, slots=True)
class Agreed:
    """An agreed specification in plain values; an empty text is a value not agreed."""

    source: Source
    factor_k: str = ""
    force_n: int | None = None
    factor_w: str = ""
    diameter_minus_pct: str = ""
    diameter_plus_pct: str = ""
    mass_minus_pct: str = ""
    mass_plus_pct: str = ""


@dataclass(frozen=True, slots=True)
class MassLimits:
    """By how many per cent of the expected mass a rope may be lighter and heavier."""

    minus_pct: Decimal
    plus_pct: Decimal
    source: Source


def check_agreed(agreed: Agreed) -> None:
    """Refuse figures that no rope can have, or that do not go together.

    A factor K cannot pass pi/4, where the rope would be a solid bar of its grade; the other
    bounds are own decisions, to catch a slip of the decimal mark. Raises NoBasis.
    """
    if bool(agreed.factor_k) == (agreed.force_n is not None):
        message = "Give either a factor K or a breaking force, not both and not neither."
        raise NoBasis(message, field="factor_k")
    if agreed.force_n is not None and agreed.force_n <= 0:
        message = "An agreed breaking force must be above nought."
        raise NoBasis(message, field="force_n")
    if agreed.factor_k:
        _between(agreed.factor_k, FORCE_FACTORS_BETWEEN, field="factor_k")
    if agreed.factor_w:
        _between(agreed.factor_w, MASS_FACTORS_BETWEEN, field="factor_w")
    _check_limits("diameter", agreed.diameter_minus_pct, agreed.diameter_plus_pct)
    _check_limits("mass", agreed.mass_minus_pct, agreed.mass_plus_pct)


def agreed_force(designation: RopeDesignation, agreed: Agreed) -> Derived:
    """Give the breaking force in kN: as agreed, or from the agreed factor as K d² Rr / 1000.

    Raises NoBasis for a factor with a US grade name.
    """
    if agreed.force_n is not None:
        force_kn = Decimal(agreed.force_n) / 1000
        return Derived(
            quantity=QUANTITY,
            symbol="Fmin",
            formula="Fmin = F",
            inputs=(Given("F", "agreed force", trimmed(force_kn), "kN", agreed.source),),
            source=agreed.source,
            unrounded=force_kn,
            stated=force_kn,
            unit="kN",
            rounding=AS_GIVEN,
            basis=f"force agreed in {agreed.source.name}",
        )
    factor_k = Decimal(agreed.factor_k)
    unrounded = factor_k * designation.diameter_mm**2 * metric_grade(designation) / 1000
    return Derived(
        quantity=QUANTITY,
        symbol="Fmin",
        formula=FACTOR_FORMULA,
        inputs=(
            Given("K", "agreed breaking force factor", plain(factor_k), "", agreed.source),
            Given("d", "nominal diameter", trimmed(designation.diameter_mm), "mm"),
            Given("Rr", "rope grade", designation.grade, "N/mm²"),
        ),
        source=agreed.source,
        unrounded=unrounded,
        stated=round_half_up(unrounded),
        unit="kN",
        rounding=HALF_UP,
        basis=f"factor K = {factor_k} agreed in {agreed.source.name}",
    )


def agreed_mass(designation: RopeDesignation, agreed: Agreed) -> Derived | None:
    """Give the mass in kg per 100 m as W d² from the agreed factor; None where none was agreed."""
    if not agreed.factor_w:
        return None
    factor_w = Decimal(agreed.factor_w)
    unrounded = factor_w * designation.diameter_mm**2
    return Derived(
        quantity=MASS,
        symbol="M",
        formula="M = W d²",
        inputs=(
            Given("W", "agreed mass factor", plain(factor_w), "", agreed.source),
            Given("d", "nominal diameter", trimmed(designation.diameter_mm), "mm"),
        ),
        source=agreed.source,
        unrounded=unrounded,
        stated=round_half_up(unrounded),
        unit="kg/100m",
        rounding=HALF_UP,
        basis=f"factor W = {factor_w} agreed in {agreed.source.name}",
    )


def agreed_diameter(designation: RopeDesignation, agreed: Agreed) -> DiameterLimits | None:
    """Give the agreed limits of the diameter in mm; None where none were agreed."""
    if not agreed.diameter_minus_pct:
        return None
    nominal_mm = designation.diameter_mm
    return agreed_limits(
        min_mm=nominal_mm * (100 - Decimal(agreed.diameter_minus_pct)) / 100,
        max_mm=nominal_mm * (100 + Decimal(agreed.diameter_plus_pct)) / 100,
        document=agreed.source.name,
    )


def agreed_mass_limits(agreed: Agreed) -> MassLimits | None:
    """Give the agreed limits of the mass; None where none were agreed."""
    if not agreed.mass_minus_pct:
        return None
    return MassLimits(Decimal(agreed.mass_minus_pct), Decimal(agreed.mass_plus_pct), agreed.source)


def _check_limits(what: str, minus_pct: str, plus_pct: str) -> None:
    if bool(minus_pct) != bool(plus_pct):
        message = f"Give both limits of the {what}, or neither."
        raise NoBasis(message, field=f"{what}_minus_pct")
    for side, text in (("minus", minus_pct), ("plus", plus_pct)):
        if text:
            _between(text, (Decimal(0), LARGEST_DEVIATION_PCT), field=f"{what}_{side}_pct")


def _between(text: str, bounds: tuple[Decimal, Decimal], *, field: str) -> None:
    least, most = bounds
    try:
        value = Decimal(text)
    except InvalidOperation:
        value = Decimal("NaN")
    if not (value.is_finite() and least <= value <= most):
        message = f"“{text}” cannot be: give a number from {least} to {most}, such as 0.356."
        raise NoBasis(message, field=field)
