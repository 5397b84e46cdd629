"""Between which contents an analysis of the product must lie, when that of the ladle is known.

Ladle and product are analysed from different samples, so the product has a tolerance of its own;
the limits of the steel itself bind the ladle alone.
"""

from decimal import Decimal

from certs.rules.content import BELOW
from certs.rules.derived import Derived, Given, plain
from certs.rules.steel_limits import CheckSampleTolerance

EXACT = "none: exact"


def check_sample_limits(
    tolerance: CheckSampleTolerance, figure: str
) -> tuple[Derived, Derived] | None:
    """Give the lowest and highest content of a check sample, in per cent by mass.

    None for a content that is printed as "less than".
    """
    if figure.startswith(BELOW):
        return None
    ladle = Decimal(figure)
    return (
        _limit("lowest", "-", ladle - tolerance.tolerance, figure, tolerance),
        _limit("highest", "+", ladle + tolerance.tolerance, figure, tolerance),
    )


def _limit(
    which: str, sign: str, content: Decimal, figure: str, tolerance: CheckSampleTolerance
) -> Derived:
    symbol = tolerance.symbol
    return Derived(
        quantity=f"{which} {symbol} of a check sample",
        symbol=f"{symbol}p",
        formula=f"{symbol}p = {symbol} {sign} t",
        inputs=(
            Given(symbol, "content in the ladle", figure, "%"),
            Given("t", "tolerance of a product analysis", plain(tolerance.tolerance), "%"),
        ),
        source=tolerance.source,
        unrounded=content,
        stated=content,
        unit="%",
        rounding=EXACT,
        basis="ladle analysis and tolerance of the product analysis",
    )
