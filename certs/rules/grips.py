"""How U-bolt grips are fitted where they may be used at all, and what nobody here holds of it.

Where they may be used is decided by `termination`.
"""

from decimal import Decimal
from typing import Final

from certs.rules.derived import Derived, Given, Source, trimmed
from certs.rules.finding import Finding, Verdict

SPACING_D: Final = 6
FEWEST_REMEMBERED: Final = 3
CLIPS: Final = Source("29 CFR 1918 Appendix II", "", "read")
FEWEST: Final = Source("EN 13411-5, fewest grips", "", "memory")


def grip_finding(*, place: str, grips: int, diameter_mm: Decimal) -> Finding:
    """Tell how many grips are on record at an end, and the spacing that is asked for.

    How many a size needs is a table that nobody here has read, so nothing can be said of the
    count; below three it warns, from memory.
    """
    spacing = Derived(
        quantity="spacing of grips",
        symbol="s",
        formula="s = n d",
        inputs=(
            Given("n", "rope diameters", str(SPACING_D), "", CLIPS),
            Given("d", "nominal diameter", trimmed(diameter_mm), "mm"),
        ),
        source=CLIPS,
        unrounded=SPACING_D * diameter_mm,
        stated=Decimal(trimmed(SPACING_D * diameter_mm)),
        unit="mm",
        rounding="not rounded",
        basis=f"{SPACING_D} rope diameters",
    )
    text = (
        f"{place}: {grips} grips on record. How many this size needs is not held: take it from"
        f" the maker or your copy of 29 CFR 1918. Space them {spacing.text} apart."
    )
    few = f"Fewer than {FEWEST_REMEMBERED} grips at an end are not known to hold ({FEWEST.text})."
    return Finding(
        topic="Grips",
        verdict=Verdict.CANNOT_SAY,
        text=text,
        rule="number of grips by size of rope, spaced at six diameters",
        source=CLIPS,
        derived=(spacing,),
        warnings=(few,) if grips < FEWEST_REMEMBERED else (),
    )
