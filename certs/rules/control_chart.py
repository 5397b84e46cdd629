"""The chart of individual values over time: its centre, and the limits that chance alone keeps to.

Only points outside the limits are a signal here; rules of runs are not held, for want of a source.
What the values are, and whether there are enough of them, is left to whoever charts them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise
from typing import Final

from certs.rules.derived import Derived, Given, Source, plain, trimmed

FEWEST_VALUES: Final = 2
HANDBOOK: Final = Source(
    name="NIST e-Handbook of Statistical Methods, 6.3.2.2 (individuals control charts)",
    confidence="read",
)
# d2 for two values; printed so in every table, and it is 2 divided by the root of pi.
D2_OF_TWO: Final = Decimal("1.128")

_PLACE: Final = Decimal("0.000001")
_ROUNDING: Final = "to six decimals, half up"


@dataclass(frozen=True, slots=True)
class IndividualsChart:
    """Centre line, mean moving range and limits; `outside` are the places of points beyond them."""

    centre: Derived
    mean_range: Derived
    lower: Derived
    upper: Derived
    outside: tuple[int, ...]


def individuals_chart(
    values: Sequence[Decimal], *, quantity: str, unit: str = ""
) -> IndividualsChart:
    """Chart values in the order of time: limits at the mean plus and minus 3/1.128 = 2.66 MRbar.

    Raises:
        ValueError: there are fewer than two values, so that nothing moves.

    """
    if len(values) < FEWEST_VALUES:
        message = f"{len(values)} values have no moving range"
        raise ValueError(message)
    centre = mean_of(values, quantity=quantity, unit=unit, source=HANDBOOK)
    mean_range = _mean_range(values, quantity=quantity, unit=unit)
    lower, upper = (_limit(centre, mean_range, sign=sign) for sign in ("-", "+"))
    outside = tuple(
        place
        for place, value in enumerate(values)
        if not lower.unrounded <= value <= upper.unrounded
    )
    return IndividualsChart(centre, mean_range, lower, upper, outside)


def mean_of(values: Sequence[Decimal], *, quantity: str, unit: str, source: Source) -> Derived:
    """Give the mean of values that were all measured."""
    total = sum(values, Decimal(0))
    return _rounded(
        quantity=f"mean of {quantity}",
        symbol="m",
        formula="m = S / n",
        inputs=(
            Given("S", "sum of the values", plain(total), unit),
            Given("n", "number of values", str(len(values)), ""),
        ),
        source=source,
        unrounded=total / len(values),
        unit=unit,
        basis=f"{len(values)} values",
    )


def _mean_range(values: Sequence[Decimal], *, quantity: str, unit: str) -> Derived:
    total = sum((abs(late - early) for early, late in pairwise(values)), Decimal(0))
    count = len(values) - 1
    return _rounded(
        quantity=f"mean moving range of {quantity}",
        symbol="R",
        formula="R = D / j",
        inputs=(
            Given("D", "sum of the differences from one value to the next", plain(total), unit),
            Given("j", "number of differences", str(count), ""),
        ),
        source=HANDBOOK,
        unrounded=total / count,
        unit=unit,
        basis=f"{count} differences, in order of time",
    )


def _limit(centre: Derived, mean_range: Derived, *, sign: str) -> Derived:
    half = 3 * mean_range.unrounded / D2_OF_TWO
    is_upper = sign == "+"
    return _rounded(
        quantity=f"{'upper' if is_upper else 'lower'} control limit",
        symbol="U" if is_upper else "L",
        formula=f"{'U' if is_upper else 'L'} = m {sign} 3 R / d2",
        inputs=(
            Given("m", centre.quantity, trimmed(centre.stated), centre.unit),
            Given("R", mean_range.quantity, trimmed(mean_range.stated), mean_range.unit),
            Given("d2", "mean range of two normal values", plain(D2_OF_TWO), "", HANDBOOK),
        ),
        source=HANDBOOK,
        unrounded=centre.unrounded + (half if is_upper else -half),
        unit=centre.unit,
        basis="what chance alone keeps to, if it stays as it was",
        rests_on=(centre, mean_range),
    )


def _rounded(  # noqa: PLR0913 -- the parts of a derivation, by name
    *,
    quantity: str,
    symbol: str,
    formula: str,
    inputs: tuple[Given, ...],
    source: Source,
    unrounded: Decimal,
    unit: str,
    basis: str,
    rests_on: tuple[Derived, ...] = (),
) -> Derived:
    return Derived(
        quantity=quantity,
        symbol=symbol,
        formula=formula,
        inputs=inputs,
        source=source,
        unrounded=unrounded,
        stated=unrounded.quantize(_PLACE, rounding=ROUND_HALF_UP),
        unit=unit,
        rounding=_ROUNDING,
        basis=basis,
        rests_on=rests_on,
    )
