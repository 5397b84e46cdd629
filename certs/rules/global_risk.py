"""How often a rule decides wrongly over a whole production (JCGM 106:2012, 9).

The risks of one measured item are decided by `conformance_probability`. Production and
measurement are taken as normal; floats are at home here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from math import isfinite, pi, sqrt

import numpy as np
from numpy.typing import NDArray
from scipy import integrate, special

from certs.rules.conformance_probability import Number
from inventory.rules.refusal import Refusal

# Beyond this many standard deviations a normal distribution holds less than 1e-32.
REACH = 12.0
_NODES = 64

Points = NDArray[np.float64]


class NoRisk(Refusal):
    """A risk or a capability that cannot be computed from what was given."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What conforms, and within it what is accepted: both ends, one end, or as wide as may be."""

    lower: float = -np.inf
    upper: float = np.inf
    guard_band: float = 0.0

    @classmethod
    def of(
        cls, *, lower: Number | None = None, upper: Number | None = None, guard_band: Number = 0
    ) -> "Limits":
        """Read limits. Raises NoRisk without one, out of order, or for a band below nought."""
        if lower is None and upper is None:
            raise NoRisk("Conformity needs a lower or an upper limit.")
        if lower is not None and upper is not None and lower >= upper:
            raise NoRisk("The lower limit must lie below the upper one; check both.", field="upper")
        if guard_band < 0:
            raise NoRisk("A guard band is not below nought.", field="guard_band")
        return cls(
            -np.inf if lower is None else float(lower),
            np.inf if upper is None else float(upper),
            float(guard_band),
        )


@dataclass(frozen=True, slots=True)
class GlobalRisk:
    """Shares of the whole production.

    `consumers`: does not conform and is accepted. `producers`: conforms and is rejected.
    """

    consumers: float
    producers: float
    conforming: float
    accepted: float


@dataclass(frozen=True, slots=True)
class Capability:
    """Cp and Cpk of a process; Cp only with two limits, each side only where it has one."""

    cp: Decimal | None
    lower: Decimal | None
    upper: Decimal | None

    @property
    def cpk(self) -> Decimal:
        """Give the capability of the worse side."""
        return min(side for side in (self.lower, self.upper) if side is not None)


def global_risk(*, mean: Number, sd: Number, u: Number, limits: Limits) -> GlobalRisk:
    """Integrate both risks over a normal production (JCGM 106:2012, 9).

    Consumer's: the prior outside the limits times the probability of acceptance; producer's: the
    prior inside times that of rejection. `u` is the standard uncertainty of a measurement. All in
    one unit. Raises NoRisk unless sd and u are above nought.
    """
    if sd <= 0 or u <= 0:
        raise NoRisk("Both standard deviations must be above nought.", field="sd")
    centre, spread, doubt = float(mean), float(sd), float(u)
    accept_from, accept_to = limits.lower + limits.guard_band, limits.upper - limits.guard_band

    def accepted(x: Points) -> Points:
        return _between(x, doubt, accept_from, accept_to)

    def prior(x: Points) -> Points:
        return np.exp(-(((x - centre) / spread) ** 2) / 2) / (spread * sqrt(2 * pi))

    def is_passed_on(x: Points) -> Points:
        return prior(x) * accepted(x)

    def is_turned_away(x: Points) -> Points:
        return prior(x) * (1 - accepted(x))

    marks = _marks(centre, spread, doubt, (limits.lower, limits.upper, accept_from, accept_to))
    consumers = producers = 0.0
    for start, end in pairwise(marks):
        if limits.lower <= (start + end) / 2 <= limits.upper:
            producers += _integral(is_turned_away, start, end)
        else:
            consumers += _integral(is_passed_on, start, end)
    conforming = 1 - nonconforming(mean=centre, sd=spread, limits=limits)
    return GlobalRisk(
        consumers=consumers,
        producers=producers,
        conforming=conforming,
        accepted=conforming - producers + consumers,
    )


def nonconforming(*, mean: Number, sd: Number, limits: Limits) -> float:
    """Give the share of a normal production outside the limits. Raises NoRisk unless sd > 0."""
    if sd <= 0:
        raise NoRisk("A standard deviation must be above nought.", field="sd")
    below = special.ndtr((limits.lower - float(mean)) / float(sd))
    above = special.ndtr((float(mean) - limits.upper) / float(sd))
    return float(below + above)


def capability(
    *, mean: Decimal, sd: Decimal, lower: Decimal | None = None, upper: Decimal | None = None
) -> Capability:
    """Give Cp = (U - L) / 6 s and the distance of each limit in 3 s (NIST e-Handbook 6.1.6).

    Raises NoRisk without a limit, for limits out of order, or unless sd > 0.
    """
    Limits.of(lower=lower, upper=upper)
    if sd <= 0:
        raise NoRisk("A standard deviation must be above nought.", field="sd")
    return Capability(
        cp=None if lower is None or upper is None else (upper - lower) / (6 * sd),
        lower=None if lower is None else (mean - lower) / (3 * sd),
        upper=None if upper is None else (upper - mean) / (3 * sd),
    )


def _between(x: Points, sd: float, low: float, high: float) -> Points:
    """Give the probability that a measurement of x falls between two values."""
    if low > high:
        return np.zeros_like(x)
    return special.ndtr((high - x) / sd) - special.ndtr((low - x) / sd)


def _marks(centre: float, spread: float, doubt: float, ends: tuple[float, ...]) -> list[float]:
    """Give the points between which the integrands are smooth, so that no step is stepped over."""
    first, last = centre - REACH * spread, centre + REACH * spread
    finite = [end for end in ends if isfinite(end)]
    near = [end + steps * doubt for end in finite for steps in (-REACH, -3, 3, REACH)]
    wide = [centre + steps * spread for steps in (-3, 0, 3)]
    inner = {point for point in (*finite, *near, *wide) if first < point < last}
    return sorted({first, last} | inner)


def _integral(function: Callable[[Points], Points], start: float, end: float) -> float:
    """Integrate by Gauss-Legendre: between two marks nothing is steeper than nine deviations."""
    return float(integrate.fixed_quad(function, start, end, n=_NODES)[0])
