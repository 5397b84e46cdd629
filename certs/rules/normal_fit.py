"""Mean and standard deviation of a normal population from results, some of which are lower bounds.

A lower bound says only that the true value is at least so much. The fit is that of greatest
likelihood; without lower bounds, and for what is made of the figures, see `tolerance_limit`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.optimize import minimize
from scipy.special import log_ndtr

FEWEST_EXACT: Final = 2

_LOG_ROOT_TWO_PI: Final = 0.9189385332046727
_SMALLEST_H: Final = 1e-9


@dataclass(frozen=True, slots=True)
class NormalFit:
    """Mean and standard deviation of greatest likelihood, in the unit of the values."""

    mean: float
    sd: float


def fit_normal(exact: Sequence[float], lower_bounds: Sequence[float]) -> NormalFit:
    """Fit a normal distribution to exact values and lower bounds by greatest likelihood.

    The lower bounds must not depend on the true values: what made a result a mere bound must have
    struck strong and weak alike. With h = 1/sd and a = mean/sd the likelihood has one top only.

    Raises:
        ValueError: fewer than two exact values, or all the same: then there is no top.

    """
    if len(set(exact)) < FEWEST_EXACT:
        message = "a spread needs two exact values that differ"
        raise ValueError(message)
    values = np.asarray(exact, dtype=float)
    # Values near zero with a spread near one: the search then needs no scale of its own.
    middle, width = float(values.mean()), float(values.std())
    z = (values - middle) / width
    w = (np.asarray(lower_bounds, dtype=float) - middle) / width

    def cost(at: np.ndarray) -> tuple[float, np.ndarray]:
        a, h = at
        apart, short = h * z - a, h * w - a
        log_tail = log_ndtr(-short)
        hazard = np.exp(-(short**2) / 2 - _LOG_ROOT_TWO_PI - log_tail)
        likelihood = len(z) * np.log(h) - (apart**2).sum() / 2 + log_tail.sum()
        slope_a = apart.sum() + hazard.sum()
        slope_h = len(z) / h - (z * apart).sum() - (w * hazard).sum()
        return -float(likelihood), -np.array([slope_a, slope_h])

    found = minimize(
        cost,
        np.array([0.0, 1.0]),
        jac=True,
        method="L-BFGS-B",
        bounds=[(None, None), (_SMALLEST_H, None)],
        options={"ftol": 1e-15, "gtol": 1e-10},
    )
    a, h = (float(one) for one in found.x)
    return NormalFit(mean=middle + width * a / h, sd=width / h)
