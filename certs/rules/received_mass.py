"""How the mass of a received rope compares with W d², weighed and as the maker declares it.

No published tolerance of the mass is held, so a deviation is told and judged by nobody here; the
expected mass comes from `length_mass`.
"""

from decimal import Decimal

from certs.rules.breaking_force import HALF_UP
from certs.rules.derived import Derived, Gap, Given, Source, plain, round_half_up, trimmed
from certs.rules.finding import Finding, Verdict
from certs.rules.mass_unit import KG_PER_100M

WEIGHED_TOPIC = "Weighed mass"
DECLARED_TOPIC = "Declared mass"
RULE = "mass per length against W d²"
# EN 12385-2 3.10 gives M = W d² and no limit to what a rope may deviate from it.
NO_TOLERANCE = (
    "No published tolerance of the mass is held, so nothing is concluded from it: agree a limit"
    " with the maker, or enter it from your copy of the standard."
)
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


def mass_finding(found: Derived | Gap, expected: Derived | Gap, *, topic: str) -> Finding:
    """Tell a mass beside the expected one; `expected` is in kg per 100 m."""
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
    return Finding(
        topic=topic,
        verdict=Verdict.CANNOT_SAY,
        text=f"{found.text}, {sign}{deviation.text} from {expected.text}.",
        rule=RULE,
        source=expected.source,
        derived=(deviation,),
        warnings=(NO_TOLERANCE,),
    )
