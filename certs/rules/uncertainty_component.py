"""One influence upon a measured value, with its standard uncertainty (GUM 4.2, 4.3).

It decides how a figure that was given becomes a standard uncertainty. How components combine is
decided by `uncertainty_budget`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Final

from certs.rules.derived import Source, round_half_up, trimmed
from inventory.rules.canonical import JsonValue
from inventory.rules.refusal import Refusal

KEPT_FIGURES = 7


class Distribution(StrEnum):
    """What is assumed of a component's possible values."""

    NORMAL = "normal"
    RECTANGULAR = "rectangular"
    TRIANGULAR = "triangular"


# By what a half-width is divided to give a standard uncertainty (GUM 4.3.7, 4.3.9).
_DIVISORS: Final[Mapping[Distribution, Decimal]] = {
    Distribution.RECTANGULAR: Decimal(3).sqrt(),
    Distribution.TRIANGULAR: Decimal(6).sqrt(),
}


class NoBudget(Refusal):
    """Components from which no uncertainty can be computed."""


@dataclass(frozen=True, slots=True)
class Component:
    """One influence: its best value and its standard uncertainty, in the same unit.

    `divisor` is what the figure that was given (a half-width, an expanded uncertainty) was divided
    by. `sensitivity` turns its unit into that of the result. No degrees of freedom: not limited.
    """

    name: str
    value: Decimal
    standard_uncertainty: Decimal
    distribution: Distribution
    divisor: Decimal
    sensitivity: Decimal = Decimal(1)
    degrees_of_freedom: Decimal | None = None
    source: Source | None = None

    @property
    def contribution(self) -> Decimal:
        """Give its share c u in the combined uncertainty, with its sign, in the result's unit."""
        return self.sensitivity * self.standard_uncertainty

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form that is kept with a test; every number is a string."""
        dof = self.degrees_of_freedom
        return {
            "name": self.name,
            "value": trimmed(self.value),
            "standard_uncertainty": kept(self.standard_uncertainty),
            "distribution": self.distribution.value,
            "divisor": kept(self.divisor),
            "sensitivity": kept(self.sensitivity),
            "degrees_of_freedom": None if dof is None else kept(dof),
            "contribution": kept(self.contribution),
            "source": self.source.text if self.source else "",
        }


def spread_evenly(
    name: str,
    *,
    half_width: Decimal,
    value: Decimal = Decimal(0),
    distribution: Distribution = Distribution.RECTANGULAR,
    sensitivity: Decimal = Decimal(1),
    source: Source | None = None,
) -> Component:
    """Give a component known only by limits ±`half_width` about its value (GUM 4.3.7, 4.3.9)."""
    divisor = _DIVISORS[distribution]
    return Component(
        name, value, half_width / divisor, distribution, divisor, sensitivity, source=source
    )


def from_expanded(
    name: str,
    *,
    expanded: Decimal,
    factor: Decimal,
    value: Decimal = Decimal(0),
    source: Source | None = None,
) -> Component:
    """Give a component that a certificate states as U = k u (GUM 4.3.3)."""
    if factor <= 0:
        message = "A coverage factor is above nought."
        raise NoBudget(message, field="coverage_factor")
    return Component(name, value, expanded / factor, Distribution.NORMAL, factor, source=source)


def kept(value: Decimal) -> str:
    """Write a computed figure as it is kept: seven figures."""
    return trimmed(to_figures(value, KEPT_FIGURES))


def to_figures(value: Decimal, significant: int) -> Decimal:
    """Round to significant figures, a half going up; nought stays nought."""
    return round_half_up(value, significant) if value else Decimal(0)
