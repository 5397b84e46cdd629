"""Which coverage factor belongs to combined components: their effective degrees of freedom.

The components' sum is decided by `uncertainty_budget`.
"""

from collections.abc import Mapping, Sequence
from decimal import ROUND_FLOOR, Decimal
from typing import Final

from scipy import stats

from certs.rules.uncertainty_component import Component, to_figures

# Correlation coefficients by the positions of two components in their sequence.
Correlations = Mapping[tuple[int, int], Decimal]

LEAST_OF_TIED: Final = (
    "Some components are correlated, for which the effective degrees of freedom are not defined"
    " (GUM G.4.1): the least of any component are taken."
)
_FIGURES = 10


def coverage_factor(*, coverage: Decimal, degrees_of_freedom: Decimal | None) -> Decimal:
    """Give Student's t for a two-sided share `coverage`; none limited: the normal quantile.

    Degrees of freedom are cut to whole ones (GUM G.4.1), one at the least.
    """
    upper = float((1 + coverage) / 2)
    if degrees_of_freedom is None:
        return _decimal(float(stats.norm.ppf(upper)))
    return _decimal(float(stats.t.ppf(upper, whole_degrees(degrees_of_freedom))))


def effective_degrees_of_freedom(
    components: Sequence[Component], pairs: Correlations, combined: Decimal
) -> tuple[Decimal | None, tuple[str, ...]]:
    """Give the effective degrees of freedom (Welch-Satterthwaite, GUM G.4.1), and what to say.

    None: not limited.
    """
    limited = [
        (place, part.contribution, part.degrees_of_freedom)
        for place, part in enumerate(components)
        if part.degrees_of_freedom is not None and part.contribution
    ]
    tied = {place for pair, r in pairs.items() if r for place in pair}
    if any(place in tied for place, _, _ in limited):
        return min(degrees for _, _, degrees in limited), (LEAST_OF_TIED,)
    share = sum((part**4 / degrees for _, part, degrees in limited), Decimal(0))
    return (combined**4 / share if share else None), ()


def whole_degrees(degrees_of_freedom: Decimal) -> int:
    """Cut to whole degrees of freedom, one at the least."""
    return max(int(degrees_of_freedom.to_integral_value(rounding=ROUND_FLOOR)), 1)


def _decimal(value: float) -> Decimal:
    return to_figures(Decimal(repr(value)), _FIGURES)
