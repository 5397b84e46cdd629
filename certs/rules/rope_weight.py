"""What pieces of rope weigh, and an order of them: from the mass per length, whoever gave it.

Rope alone: no reel, no fitting, no packing. Which mass speaks of the rope is decided elsewhere.
"""

from collections.abc import Sequence
from decimal import Decimal

from certs.rules.breaking_force import HALF_UP
from certs.rules.derived import Derived, Given, Source, plain, round_half_up, trimmed

WEIGHT = Source(name="derived: length by mass per length", confidence="derived")
ROPE_ALONE = "Rope alone, at nominal mass: without reels, fittings and packing."


def rope_weight(mass: Derived, *, length_mm: int, quantity: int = 1, named: str) -> Derived:
    """Give the mass in kg of pieces of one length, from a mass in kg per 100 m; `named` in words.

    Raises:
        ValueError: the mass is in another unit.

    """
    if mass.unit != "kg/100m":
        message = f"a mass in kg/100m is needed, not in {mass.unit}"
        raise ValueError(message)
    metres = Decimal(length_mm) / 1000
    unrounded = quantity * mass.stated * metres / 100
    return Derived(
        quantity=f"weight of {named}",
        symbol="m",
        formula="m = q M L / 100",
        inputs=(
            Given("q", "number of pieces", str(quantity), ""),
            Given("M", mass.basis, plain(mass.stated), mass.unit, mass.source),
            Given("L", "length of each", trimmed(metres), "m"),
        ),
        source=WEIGHT,
        unrounded=unrounded,
        stated=round_half_up(unrounded),
        unit="kg",
        rounding=HALF_UP,
        basis=mass.basis,
        rests_on=(mass,),
    )


def total_weight(weights: Sequence[Derived], *, named: str) -> Derived:
    """Add weights in kg, before their rounding; `named` in words.

    Raises:
        ValueError: there is nothing to add.

    """
    if not weights:
        message = "no weights to add"
        raise ValueError(message)
    unrounded = sum((one.unrounded for one in weights), Decimal(0))
    symbols = [f"m{place}" for place in range(1, len(weights) + 1)]
    return Derived(
        quantity=f"weight of {named}",
        symbol="G",
        formula=f"G = {' + '.join(symbols)}",
        inputs=tuple(
            Given(symbol, one.quantity, trimmed(one.unrounded), one.unit)
            for symbol, one in zip(symbols, weights, strict=True)
        ),
        source=WEIGHT,
        unrounded=unrounded,
        stated=round_half_up(unrounded),
        unit="kg",
        rounding=HALF_UP,
        basis=ROPE_ALONE,
        rests_on=tuple(weights),
    )
