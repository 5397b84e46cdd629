"""How the mass of a received rope compares with W d², weighed and as the maker declares it.

No published tolerance of the mass is held, so a deviation is judged only where two parties agreed
on one; otherwise it is told. The expected mass comes from `length_mass` or that agreement.
"""

from decimal import Decimal

from certs.rules.agreed_basis import MassLimits
from certs.rules.breaking_force import HALF_UP
from certs.rules.derived import (
    SHOWN_FIGURES,
    Derived,
    Gap,
    Given,
    Source,
    plain,
    round_half_up,
    trimmed,
)
from certs.rules.finding import Finding, Verdict, against
from certs.rules.mass_unit import KG_PER_100M

WEIGHED_TOPIC = "Weighed mass"
DECLARED_TOPIC = "Declared mass"
RULE = "mass per length against W d²"
# EN 12385-2 3.10 gives M = W d² and no limit to what a rope may deviate from it.
NO_TOLERANCE = (
    "No published tolerance of the mass is held, so nothing is concluded from it: agree a limit"
    " with the maker, or enter it from your copy of the standard."
)
TO_SHOW = "seven significant figures, half up; masses are compared before rounding"
BY_MEMORY = "The expected mass rests on memory or habit alone: it warns, and rejects nothing."
MEASURED = Source(name="our own weighing", confidence="measured")
DEVIATION = Source(name="difference in per cent of the expected mass")
NO_EXPECTED = Source(name="mass factors", confidence="gap")


def weighed_mass(*, length_mm: int, mass_g: int) -> Derived:
    """Give the mass in kg per 100 m of a length that was weighed, both above nought."""
    length_m, mass_kg = Decimal(length_mm) / 1000, Decimal(mass_g) / 1000
    unrounded = mass_kg * 100 / length_m
    return Derived(
        quantity="weighed length mass",
        symbol="Mw",
        formula="Mw = m 100 / L",
        inputs=(
            Given("m", "mass of the length weighed", trimmed(mass_kg), "kg"),
            Given("L", "length weighed", trimmed(length_m), "m"),
        ),
        source=MEASURED,
        unrounded=unrounded,
        stated=round_half_up(unrounded),
        unit=KG_PER_100M,
        rounding=HALF_UP,
        basis="a length of the rope weighed",
    )


def mass_deviation(found: Derived, expected: Derived) -> Derived:
    """Give the deviation of a mass from the expected one in per cent of it, before rounding."""
    unrounded = (found.unrounded - expected.unrounded) * 100 / expected.unrounded
    return Derived(
        quantity="deviation of the mass",
        symbol="ΔM",
        formula=f"ΔM = ({found.symbol} - {expected.symbol}) 100 / {expected.symbol}",
        inputs=(
            Given(found.symbol, found.basis, plain(found.unrounded), found.unit, found.source),
            Given(
                expected.symbol,
                expected.basis,
                plain(expected.unrounded),
                expected.unit,
                expected.source,
            ),
        ),
        source=DEVIATION,
        unrounded=unrounded,
        stated=round_half_up(unrounded) if unrounded else Decimal(0),
        unit="%",
        rounding=HALF_UP,
        basis="both masses before rounding",
        rests_on=(found, expected),
    )


def mass_finding(
    found: Derived | Gap, expected: Derived | Gap, *, topic: str, limits: MassLimits | None = None
) -> Finding:
    """Tell a mass beside the expected one, in kg per 100 m, and judge it by the limits agreed."""
    if isinstance(found, Gap):
        source = expected.source if isinstance(expected, Derived) else NO_EXPECTED
        derived = (expected,) if isinstance(expected, Derived) else ()
        return Finding(topic, Verdict.CANNOT_SAY, found.reason, RULE, source, derived=derived)
    if isinstance(expected, Gap):
        text = f"{found.text}. {expected.reason}"
        source = expected.source or NO_EXPECTED
        return Finding(topic, Verdict.CANNOT_SAY, text, RULE, source, derived=(found,))
    deviation = mass_deviation(found, expected)
    sign = "+" if deviation.stated > 0 else ""
    told = f"{found.text}, {sign}{deviation.text} from {expected.text}"
    if limits is not None:
        return _judged(told, deviation, _sides(expected, limits), limits=limits, topic=topic)
    return Finding(
        topic=topic,
        verdict=Verdict.CANNOT_SAY,
        text=f"{told}.",
        rule=RULE,
        source=expected.source,
        derived=(deviation,),
        warnings=(NO_TOLERANCE,),
    )


def _judged(
    told: str,
    deviation: Derived,
    sides: tuple[Derived, Derived],
    *,
    limits: MassLimits,
    topic: str,
) -> Finding:
    found, _ = deviation.rests_on
    lowest, highest = sides
    is_met = lowest.unrounded <= found.unrounded <= highest.unrounded
    derived = (deviation, lowest, highest)
    is_provisional = any(one.is_provisional for one in derived)
    where = "within" if is_met else "outside"
    return Finding(
        topic=topic,
        verdict=against(is_met=is_met, is_provisional=is_provisional),
        text=f"{told}: {where} the limits {lowest.text} to {highest.text}.",
        rule=f"mass per length from {limits.minus_pct} % below to {limits.plus_pct} % above W d²",
        source=limits.source,
        derived=derived,
        warnings=(BY_MEMORY,) if is_provisional else (),
    )


def _sides(expected: Derived, limits: MassLimits) -> tuple[Derived, Derived]:
    return (
        _side("lowest mass", "Mmin", -limits.minus_pct, expected=expected, source=limits.source),
        _side("highest mass", "Mmax", limits.plus_pct, expected=expected, source=limits.source),
    )


def _side(
    quantity: str, symbol: str, deviation_pct: Decimal, *, expected: Derived, source: Source
) -> Derived:
    unrounded = expected.unrounded * (100 + deviation_pct) / 100
    sign = "-" if deviation_pct < 0 else "+"
    return Derived(
        quantity=quantity,
        symbol=symbol,
        formula=f"{symbol} = {expected.symbol} (100 {sign} p) / 100",
        inputs=(
            Given(
                expected.symbol,
                expected.basis,
                plain(expected.unrounded),
                expected.unit,
                expected.source,
            ),
            Given("p", "deviation agreed on", plain(abs(deviation_pct)), "%", source),
        ),
        source=source,
        unrounded=unrounded,
        stated=Decimal(trimmed(round_half_up(unrounded, SHOWN_FIGURES))),
        unit=expected.unit,
        rounding=TO_SHOW,
        basis="the expected mass before rounding",
        rests_on=(expected,),
    )
