"""The constants of control charts, worked out from the normal distribution itself.

They are those that are printed in every table; what is charted with them is left to the charts.
"""

import math
from dataclasses import dataclass
from typing import Final

from scipy.integrate import dblquad, quad
from scipy.special import ndtr

_FEWEST: Final = 2
# Beyond nine standard deviations a normal variable holds less than double precision can tell.
_FAR: Final = 9.0


@dataclass(frozen=True, slots=True)
class SpcConstants:
    """For samples of n normal values: mean and spread of the range, and the factors of limits.

    d2 and d3 are mean and standard deviation of the range, c4 the mean of the sample's standard
    deviation, each in standard deviations of the population. A2 and A3 give the limits of a mean
    from ranges and from standard deviations; D3 and D4 those of a range, B3 and B4 those of a
    standard deviation.
    """

    n: int
    d2: float
    d3: float
    c4: float

    @property
    def a2(self) -> float:
        """Half width of the limits of a mean, in mean ranges."""
        return 3 / (self.d2 * math.sqrt(self.n))

    @property
    def a3(self) -> float:
        """Half width of the limits of a mean, in mean standard deviations."""
        return 3 / (self.c4 * math.sqrt(self.n))

    @property
    def b3(self) -> float:
        """Lower limit of a standard deviation, in mean standard deviations."""
        return max(0.0, 1 - self._spread_of_s)

    @property
    def b4(self) -> float:
        """Upper limit of a standard deviation, in mean standard deviations."""
        return 1 + self._spread_of_s

    @property
    def d3_limit(self) -> float:
        """Lower limit of a range, in mean ranges: D3 of the tables."""
        return max(0.0, 1 - 3 * self.d3 / self.d2)

    @property
    def d4_limit(self) -> float:
        """Upper limit of a range, in mean ranges: D4 of the tables."""
        return 1 + 3 * self.d3 / self.d2

    @property
    def _spread_of_s(self) -> float:
        return 3 * math.sqrt(1 - self.c4**2) / self.c4


def spc_constants(n: int) -> SpcConstants:
    """Work out the constants for samples of n.

    Raises:
        ValueError: n is below two: a single value has no range.

    """
    if n < _FEWEST:
        message = f"a sample of {n} has no range"
        raise ValueError(message)
    d2 = _mean_range(n)
    c4 = math.sqrt(2 / (n - 1)) * math.exp(math.lgamma(n / 2) - math.lgamma((n - 1) / 2))
    return SpcConstants(n=n, d2=d2, d3=math.sqrt(_mean_squared_range(n) - d2**2), c4=c4)


def _mean_range(n: int) -> float:
    """E(W) is the integral of 1 - (1 - F)^n - F^n, F the normal distribution function."""
    mean, _ = quad(lambda x: 1 - ndtr(-x) ** n - ndtr(x) ** n, -_FAR, _FAR)
    return float(mean)


def _mean_squared_range(n: int) -> float:
    """E(W^2) is twice the integral, over x below y, of the chance of a value either side."""

    def both_sides(x: float, y: float) -> float:
        below, above = ndtr(x), ndtr(-y)
        return float(1 - (1 - below) ** n - (1 - above) ** n + (1 - below - above) ** n)

    half, _ = dblquad(both_sides, -_FAR, _FAR, -_FAR, lambda y: y)
    return 2 * float(half)
