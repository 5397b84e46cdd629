"""How probable it is that a true value lies within its limits, given what was measured (JCGM 106).

The measured value is taken as the best estimate, with a normal distribution about it (JCGM
106:2012, 7). Floats are at home here; what is kept is rounded by whoever keeps it.
"""

from decimal import Decimal

from scipy import stats

from inventory.rules.refusal import Refusal

Number = int | float | Decimal


class NoProbability(Refusal):
    """A probability that cannot be computed from what was given."""


def conformance_probability(
    y: Number, u: Number, *, lower: Number | None = None, upper: Number | None = None
) -> float:
    """Give the probability that the true value lies within the limits (JCGM 106:2012, 7.2 to 7.4).

    `y` is the measured value, `u` its standard uncertainty; all in one unit. Without uncertainty
    it is 1 or 0. Raises NoProbability without a limit, for limits out of order or u below nought.
    """
    check_limits(u, lower=lower, upper=upper)
    if not u:
        return float((lower is None or y >= lower) and (upper is None or y <= upper))
    # Differences of tails on the side where they are small, so that 1 - 1e-12 keeps its figures.
    below = 0.0 if lower is None else float(stats.norm.cdf(_z(lower, y, u)))
    within_upper = 1.0 if upper is None else float(stats.norm.cdf(_z(upper, y, u)))
    return min(max(within_upper - below, 0.0), 1.0)


def specific_consumers_risk(
    y: Number, u: Number, *, lower: Number | None = None, upper: Number | None = None
) -> float:
    """Give the probability that an item accepted with this value does not conform: 1 - p.

    Summed from the tails, so that a risk of one in a thousand million keeps its figures (JCGM
    106:2012, 9). Raises as `conformance_probability` does.
    """
    check_limits(u, lower=lower, upper=upper)
    if not u:
        return 1.0 - conformance_probability(y, u, lower=lower, upper=upper)
    below = 0.0 if lower is None else float(stats.norm.cdf(_z(lower, y, u)))
    above = 0.0 if upper is None else float(stats.norm.sf(_z(upper, y, u)))
    return min(below + above, 1.0)


def one_sided_quantile(probability: Number) -> float:
    """Give z for which a one-sided limit is kept with this probability (JCGM 106:2012, Table 1).

    Raises NoProbability unless it lies between 0 and 1.
    """
    if not 0 < probability < 1:
        message = "A probability to be reached lies between 0 and 1."
        raise NoProbability(message, field="probability")
    return float(stats.norm.ppf(float(probability)))


def surely_above(limit: Number, *, relative_u: Number, probability: Number) -> float:
    """Give the least measured value that lies above a limit with this probability.

    `relative_u` is the standard uncertainty as a share of the measured value: y - z u y = limit
    (JCGM 106:2012, 8.3.3). Raises NoProbability where no measured value is sure enough.
    """
    share = one_sided_quantile(probability) * float(relative_u)
    if share >= 1:
        raise NoProbability("No measured value is sure enough with so great an uncertainty.")
    return float(limit) / (1 - share)


def check_limits(u: Number, *, lower: Number | None, upper: Number | None) -> None:
    """Refuse where there is no limit, limits are out of order or an uncertainty is below nought.

    Raises NoProbability.
    """
    if lower is None and upper is None:
        raise NoProbability("Conformity needs a lower or an upper limit.")
    if lower is not None and upper is not None and lower > upper:
        raise NoProbability("The lower limit lies above the upper one; check both.", field="upper")
    if u < 0:
        raise NoProbability("An uncertainty is not below nought.")


def _z(limit: Number, y: Number, u: Number) -> float:
    return (float(limit) - float(y)) / float(u)
