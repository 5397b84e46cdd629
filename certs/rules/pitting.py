"""How well a stainless steel withstands pitting, as a number computed from its ladle analysis.

The number orders steels; it is no limit, and what steel serves in which water is not decided here.
"""

from collections.abc import Mapping
from decimal import Decimal

from certs.rules.content import BELOW
from certs.rules.derived import Derived, Gap, Given, Source, plain, round_half_up

QUANTITY = "pitting resistance equivalent number"
# The factor 30 of nitrogen belongs to duplex steels, of which no rope wire is held here.
FORMULA = Source(
    name="pitting resistance equivalent of austenitic stainless steels, Cr + 3.3 Mo + 16 N",
    confidence="read",
    note="one public page prints 24.00 for Cr 16.5, Mo 2.1, N 0.03; the formula gives 23.91",
)
COARSE = "Of single heats it tells no difference smaller than one to two points."
MOLYBDENUM, NITROGEN = Decimal("3.3"), Decimal(16)
NEEDED = ("Cr", "Mo", "N")


def pitting_resistance(analysis: Mapping[str, str]) -> Derived | Gap:
    """Give the number from chromium, molybdenum and nitrogen in per cent by mass, or a gap.

    A content that is printed as "less than" gives no number; nor does one that is not printed.
    """
    missing = [name for name in NEEDED if analysis.get(name, BELOW).startswith(BELOW)]
    if missing:
        reason = f"It needs a figure for {', '.join(missing)}, which the analysis does not give."
        return Gap(QUANTITY, reason, FORMULA)
    chromium, molybdenum, nitrogen = (Decimal(analysis[name]) for name in NEEDED)
    unrounded = chromium + MOLYBDENUM * molybdenum + NITROGEN * nitrogen
    return Derived(
        quantity=QUANTITY,
        symbol="PREN",
        formula="PREN = Cr + a Mo + b N",
        inputs=(
            *(Given(name, "content in the ladle", analysis[name], "%") for name in NEEDED),
            Given("a", "weight of molybdenum", plain(MOLYBDENUM), "", FORMULA),
            Given("b", "weight of nitrogen", plain(NITROGEN), "", FORMULA),
        ),
        source=FORMULA,
        unrounded=unrounded,
        stated=round_half_up(unrounded),
        unit="",
        rounding="three significant figures, half up",
        basis="ladle analysis",
        remarks=(COARSE,),
    )
