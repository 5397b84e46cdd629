"""The lower tolerance limit: what a stated share of all values reaches, as sure as was asked.

It supposes a normal population and results that are a fair sample of it. Which results belong
together, and whether there are enough, is decided in `maker_record`.
"""

import math
from collections.abc import Sequence
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from typing import Final

from scipy.special import ndtri
from scipy.stats import nct

from certs.rules.control_chart import mean_of
from certs.rules.derived import Derived, Given, Source, plain, trimmed
from certs.rules.normal_fit import fit_normal

FEWEST_VALUES: Final = 2
HANDBOOK: Final = Source(
    name="NIST e-Handbook of Statistical Methods, 7.2.6.3 (one-sided tolerance limits)",
    confidence="read",
)
LIKELIHOOD: Final = Source(
    name="greatest likelihood of a normal population with lower bounds",
    confidence="derived",
)
APPROXIMATE: Final = (
    "Approximate: no exact factor is held for a sample with lower bounds. The factor is that of "
    "the exact results alone, which is the greater one, and s is widened by √(c / (c - 1)) for "
    "the c exact results."
)
ORDER: Final = Source(
    name="order statistics: the lowest of n independent values, whatever their distribution",
    confidence="derived",
)

_PLACE: Final = Decimal("0.000001")
_K_PLACE: Final = Decimal("0.0001")
_LIMIT_PLACE: Final = Decimal("0.001")
_SIX: Final = "to six decimals, half up"


def tolerance_factor(n: int, *, coverage: Decimal, confidence: Decimal) -> float:
    """Give k: mean - k s is reached by the share `coverage` with the given confidence.

    Exact, from the noncentral t distribution: the approximation of Natrella is wrong for small n.

    Raises:
        ValueError: n below two, or a share or confidence that is not between 0 and 1.

    """
    if n < FEWEST_VALUES or not (0 < coverage < 1 and 0 < confidence < 1):
        message = f"no factor for n = {n}, share {coverage}, confidence {confidence}"
        raise ValueError(message)
    root = math.sqrt(n)
    shift = float(ndtri(float(coverage))) * root
    return float(nct.ppf(float(confidence), n - 1, shift)) / root


def lower_tolerance_limit(
    exact: Sequence[Decimal],
    lower_bounds: Sequence[Decimal] = (),
    *,
    quantity: str,
    coverage: Decimal,
    confidence: Decimal,
) -> Derived:
    """Give mean - k s of pure numbers, cut down to three decimals, with mean, s and k before it.

    Raises:
        ValueError: fewer than two exact values that differ.

    """
    mean, spread = _moments(exact, lower_bounds, quantity=quantity)
    factor = _factor(len(exact), coverage=coverage, confidence=confidence)
    unrounded = mean.stated - factor.stated * spread.stated
    percent = f"{trimmed(coverage * 100)} %"
    return Derived(
        quantity=f"lower tolerance limit of {quantity}",
        symbol="T",
        formula="T = m - k s",
        inputs=tuple(
            Given(one.symbol, one.quantity, trimmed(one.stated), "")
            for one in (mean, factor, spread)
        ),
        source=HANDBOOK,
        unrounded=unrounded,
        stated=unrounded.quantize(_LIMIT_PLACE, rounding=ROUND_FLOOR),
        unit="",
        rounding="cut down to three decimals",
        basis=f"{percent} of all values are at least this, with {confidence} confidence, if the "
        "values are normal and the sample is fair",
        rests_on=(spread, factor),
        remarks=(APPROXIMATE,) if lower_bounds else (),
    )


def lowest_of_all(count: int, *, lowest: Decimal, quantity: str, coverage: Decimal) -> Derived:
    """Tell how sure it is that a share of all values reaches the lowest of `count` results.

    1 - p^n needs no distribution, and holds for lower bounds too: the truth is above them.
    """
    confidence = 1 - coverage**count
    return Derived(
        quantity=f"confidence that {trimmed(coverage * 100)} % reach the lowest of {quantity}",
        symbol="C",
        formula="C = 1 - p^n",
        inputs=(
            Given("p", "share of all values", trimmed(coverage), ""),
            Given("n", "number of results", str(count), ""),
            Given("x", "lowest result", plain(lowest), ""),
        ),
        source=ORDER,
        unrounded=confidence,
        stated=confidence.quantize(_LIMIT_PLACE, rounding=ROUND_FLOOR),
        unit="",
        rounding="cut down to three decimals",
        basis=f"the lowest of {count} results is {plain(lowest)}; no distribution is supposed",
    )


def _moments(
    exact: Sequence[Decimal], lower_bounds: Sequence[Decimal], *, quantity: str
) -> tuple[Derived, Derived]:
    if len(set(exact)) < FEWEST_VALUES:
        message = "a spread needs two exact values that differ"
        raise ValueError(message)
    if lower_bounds:
        return _fitted(exact, lower_bounds, quantity=quantity)
    mean = mean_of(exact, quantity=quantity, unit="", source=HANDBOOK)
    squares = sum(((value - mean.unrounded) ** 2 for value in exact), Decimal(0))
    unrounded = (squares / (len(exact) - 1)).sqrt()
    spread = Derived(
        quantity=f"standard deviation of {quantity}",
        symbol="s",
        formula="s = √(Q / (n - 1))",
        inputs=(
            Given("Q", "sum of the squared distances from the mean", _six(squares), ""),
            Given("n", "number of values", str(len(exact)), ""),
        ),
        source=HANDBOOK,
        unrounded=unrounded,
        stated=unrounded.quantize(_PLACE, rounding=ROUND_HALF_UP),
        unit="",
        rounding=_SIX,
        basis=f"{len(exact)} values",
        rests_on=(mean,),
    )
    return mean, spread


def _fitted(
    exact: Sequence[Decimal], lower_bounds: Sequence[Decimal], *, quantity: str
) -> tuple[Derived, Derived]:
    fit = fit_normal([float(value) for value in exact], [float(one) for one in lower_bounds])
    count = len(exact)
    given = (
        Given("x", "exact values", ", ".join(map(plain, exact)), ""),
        Given("c", "number of exact values", str(count), ""),
        Given("w", "lower bounds", ", ".join(map(plain, lower_bounds)), ""),
    )
    mean = _of_fit("mean", quantity, fit.mean, given, ())
    widened = fit.sd * math.sqrt(count / (count - 1))
    return mean, _of_fit("standard deviation", quantity, widened, given, (mean,))


def _of_fit(
    word: str, quantity: str, value: float, given: tuple[Given, ...], rests_on: tuple[Derived, ...]
) -> Derived:
    unrounded = Decimal(repr(value))
    is_spread = bool(rests_on)
    return Derived(
        quantity=f"{word} of {quantity}, lower bounds taken as such",
        symbol="s" if is_spread else "m",
        formula="s = deviation of greatest likelihood × √(c / (c - 1))"
        if is_spread
        else "m = mean of greatest likelihood",
        inputs=given,
        source=LIKELIHOOD,
        unrounded=unrounded,
        stated=unrounded.quantize(_PLACE, rounding=ROUND_HALF_UP),
        unit="",
        rounding=_SIX,
        basis=f"exact values: {given[1].value}; the others are lower bounds",
        rests_on=rests_on,
    )


def _factor(n: int, *, coverage: Decimal, confidence: Decimal) -> Derived:
    k = Decimal(repr(tolerance_factor(n, coverage=coverage, confidence=confidence)))
    root = Decimal(n).sqrt()
    return Derived(
        quantity="factor of the tolerance limit",
        symbol="k",
        formula="k = t / √(n)",
        inputs=(
            Given("p", "share of all values", trimmed(coverage), ""),
            Given("C", "confidence", trimmed(confidence), ""),
            Given("n", "number of exact values", str(n), ""),
            Given(
                "t",
                "quantile C of the noncentral t with n - 1 degrees of freedom, shifted by z(p) √n",
                _six(k * root),
                "",
            ),
        ),
        source=HANDBOOK,
        unrounded=k,
        stated=k.quantize(_K_PLACE, rounding=ROUND_HALF_UP),
        unit="",
        rounding="to four decimals, half up, as the tables print it",
        basis=f"{n} exact values",
    )


def _six(value: Decimal) -> str:
    return plain(value.quantize(_PLACE, rounding=ROUND_HALF_UP))
