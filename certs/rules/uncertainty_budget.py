"""How uncertain a measured value is: components combined by the law of propagation (GUM).

It decides how components combine and which coverage factor belongs to them. Which components a
force measurement has is decided by `force_budget`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

import numpy as np

from certs.rules.coverage_factor import (
    Correlations,
    coverage_factor,
    effective_degrees_of_freedom,
    whole_degrees,
)
from certs.rules.derived import Derived, Gap, Given, Source, trimmed
from certs.rules.uncertainty_component import KEPT_FIGURES, Component, NoBudget, kept, to_figures
from inventory.rules.canonical import JsonValue

GUM: Final = Source("JCGM 100:2008 (GUM), 5.1.2, 5.2.2, 6.2.1", confidence="two-sources")
TABLE: Final = Source("JCGM 100:2008 (GUM), Table G.2 and G.4.1", confidence="read")
# The share of a normal distribution within two standard deviations: k = 2 (GUM Table G.1).
USUAL_COVERAGE: Final = Decimal("0.9545")
STATED_FIGURES = 2  # GUM 7.2.6: at most two figures of an uncertainty
# A matrix of rounded coefficients may miss being possible by this little.
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Budget:
    """Everything an uncertainty rests on, with what is missing from it.

    `combined` and `expanded` are in `unit` and unrounded. No effective degrees of freedom: not
    limited. With `gaps`, the true uncertainty is greater than `expanded`.
    """

    quantity: str
    unit: str
    components: tuple[Component, ...]
    combined: Decimal
    effective_degrees_of_freedom: Decimal | None
    coverage: Decimal
    coverage_factor: Decimal
    expanded: Decimal
    correlations: Correlations
    remarks: tuple[str, ...] = ()
    gaps: tuple[Gap, ...] = ()

    @property
    def is_complete(self) -> bool:
        """Say whether every component has a value."""
        return not self.gaps

    @property
    def is_provisional(self) -> bool:
        """Say whether a component rests on memory or habit."""
        return any(part.source and part.source.is_provisional for part in self.components)

    @property
    def stated(self) -> Decimal:
        """Give the expanded uncertainty as it is stated: two figures (GUM 7.2.6)."""
        return to_figures(self.expanded, STATED_FIGURES)

    def derived(self) -> Derived:
        """Tell the expanded uncertainty with everything it rests on."""
        combined = self._combined_derived()
        factor = f"coverage factor {self._coverage_words()}"
        return Derived(
            quantity=f"expanded uncertainty of the {self.quantity}",
            symbol="U",
            formula="U = k uc",
            inputs=(
                Given("k", factor, kept(self.coverage_factor), "", TABLE),
                Given("uc", combined.quantity, kept(self.combined), self.unit, GUM),
            ),
            source=GUM,
            unrounded=self.expanded,
            stated=self.stated,
            unit=self.unit,
            rounding="two figures",
            basis="uncertainty budget",
            rests_on=(combined,),
            remarks=(*self.remarks, *(gap.reason for gap in self.gaps)),
        )

    def _combined_derived(self) -> Derived:
        places = range(1, len(self.components) + 1)
        squares = " + ".join(f"u{place}²" for place in places)
        more = " + correlated terms" if any(self.correlations.values()) else ""
        return Derived(
            quantity="combined standard uncertainty",
            symbol="uc",
            formula=f"uc = √({squares}{more})",
            inputs=tuple(
                Given(f"u{place}", part.name, kept(part.contribution), self.unit, part.source)
                for place, part in zip(places, self.components, strict=True)
            ),
            source=GUM,
            unrounded=self.combined,
            stated=to_figures(self.combined, KEPT_FIGURES),
            unit=self.unit,
            rounding="seven figures",
            basis="uncertainty budget",
        )

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form that is kept with a test; every number is a string."""
        dof = self.effective_degrees_of_freedom
        return {
            "quantity": self.quantity,
            "unit": self.unit,
            "components": [part.as_json() for part in self.components],
            "combined": kept(self.combined),
            "effective_degrees_of_freedom": None if dof is None else kept(dof),
            "coverage": trimmed(self.coverage),
            "coverage_factor": kept(self.coverage_factor),
            "expanded": kept(self.expanded),
            "stated": trimmed(self.stated),
            "remarks": list(self.remarks),
            "gaps": [gap.reason for gap in self.gaps],
            "source": GUM.text,
            "is_complete": self.is_complete,
            "is_provisional": self.is_provisional,
        }

    def _coverage_words(self) -> str:
        share = f"for {trimmed(self.coverage * 100)} %"
        dof = self.effective_degrees_of_freedom
        return share if dof is None else f"{share} at {whole_degrees(dof)} degrees of freedom"


def budget(
    components: Sequence[Component],
    *,
    coverage: Decimal = USUAL_COVERAGE,
    correlations: Correlations | None = None,
    quantity: str = "result",
    unit: str = "",
) -> Budget:
    """Combine components by the first-order law of propagation (GUM 5.1.2, 5.2.2).

    `correlations` holds r by the positions of two components, each pair once; what is not named is
    independent. The coverage factor is Student's t at the effective degrees of freedom, cut to
    whole ones (GUM G.4.1). Raises NoBudget without components, for an uncertainty below nought, a
    share not between 0 and 1, and for correlations that cannot be.
    """
    pairs = dict(correlations or {})
    _check(components, coverage=coverage, pairs=pairs)
    combined = _combined(components, pairs)
    dof, remarks = effective_degrees_of_freedom(components, pairs, combined)
    factor = coverage_factor(coverage=coverage, degrees_of_freedom=dof)
    return Budget(
        quantity=quantity,
        unit=unit,
        components=tuple(components),
        combined=combined,
        effective_degrees_of_freedom=dof,
        coverage=coverage,
        coverage_factor=factor,
        expanded=factor * combined,
        correlations=pairs,
        remarks=remarks,
    )


def correlation(first: Budget, second: Budget) -> Decimal:
    """Give the correlation coefficient of two results of the same inputs (GUM H.2.3).

    Both budgets list the same inputs in the same order, with their own sensitivities.
    """
    pairs = first.correlations
    shared = sum(
        (
            one.contribution * other.contribution * _r(pairs, i, j)
            for i, one in enumerate(first.components)
            for j, other in enumerate(second.components)
        ),
        Decimal(0),
    )
    return shared / (first.combined * second.combined)


def _check(components: Sequence[Component], *, coverage: Decimal, pairs: Correlations) -> None:
    if not components:
        raise NoBudget("A budget needs one component at the least.")
    if any(part.standard_uncertainty < 0 for part in components):
        raise NoBudget("An uncertainty is not below nought.")
    if any(
        part.degrees_of_freedom is not None and part.degrees_of_freedom <= 0 for part in components
    ):
        raise NoBudget("Degrees of freedom are above nought.")
    if not 0 < coverage < 1:
        raise NoBudget("The share to be covered lies between 0 and 1.", field="coverage")
    if pairs:
        _check_pairs(pairs, count=len(components))


def _check_pairs(pairs: Correlations, *, count: int) -> None:
    matrix = np.eye(count)
    for (i, j), r in pairs.items():
        if not 0 <= i < j < count:
            raise NoBudget("Name each pair of components once, the earlier one first.")
        matrix[i, j] = matrix[j, i] = float(r)
    if np.linalg.eigvalsh(matrix).min() < -_ROUNDING:
        raise NoBudget("These correlations contradict one another.")


def _combined(components: Sequence[Component], pairs: Correlations) -> Decimal:
    parts = [part.contribution for part in components]
    variance = sum((part * part for part in parts), Decimal(0))
    variance += sum((2 * parts[i] * parts[j] * r for (i, j), r in pairs.items()), Decimal(0))
    return max(variance, Decimal(0)).sqrt()


def _r(pairs: Correlations, i: int, j: int) -> Decimal:
    return Decimal(1) if i == j else pairs.get((min(i, j), max(i, j)), Decimal(0))
