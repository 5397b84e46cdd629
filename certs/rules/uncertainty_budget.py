"""How uncertain a measured value is: components combined by the law of propagation (GUM).

It decides how components combine and which coverage factor belongs to them. Which components a
force measurement has is decided by `force_budget`.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal
from typing import Final

import numpy as np
from scipy import stats

from certs.rules.derived import Derived, Gap, Given, Source, trimmed
from certs.rules.uncertainty_component import Component, NoBudget, kept, to_figures
from inventory.rules.canonical import JsonValue

GUM: Final = Source("JCGM 100:2008 (GUM), 5.1.2, 5.2.2, 6.2.1, G.4.1", confidence="two-sources")
# The share of a normal distribution within two standard deviations: k = 2 (GUM Table G.1).
USUAL_COVERAGE: Final = Decimal("0.9545")
STATED_FIGURES = 2  # GUM 7.2.6: at most two figures of an uncertainty
LEAST_OF_TIED: Final = (
    "Some components are correlated, for which the effective degrees of freedom are not defined"
    " (GUM G.4.1): the least of theirs are taken."
)
# A matrix of rounded coefficients may miss being possible by this little.
_ROUNDING = 1e-9

# Correlation coefficients by the positions of two components in their sequence.
Correlations = Mapping[tuple[int, int], Decimal]


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
        given = (
            *(
                Given(f"u{place}", part.name, kept(part.contribution), self.unit, part.source)
                for place, part in enumerate(self.components, start=1)
            ),
            Given("k", f"coverage factor {self._coverage_words()}", kept(self.coverage_factor), ""),
            Given("uc", "combined standard uncertainty", kept(self.combined), self.unit),
        )
        return Derived(
            quantity=f"expanded uncertainty of the {self.quantity}",
            symbol="U",
            formula="U = k uc",
            inputs=given,
            source=GUM,
            unrounded=self.expanded,
            stated=self.stated,
            unit=self.unit,
            rounding="two figures",
            basis="uncertainty budget",
            remarks=(*self.remarks, *(gap.reason for gap in self.gaps)),
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
        return share if dof is None else f"{share} at {_whole(dof)} degrees of freedom"


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
    dof, remarks = _effective(components, pairs, combined)
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


def coverage_factor(*, coverage: Decimal, degrees_of_freedom: Decimal | None) -> Decimal:
    """Give Student's t for a two-sided share `coverage`; none limited: the normal quantile.

    Degrees of freedom are cut to whole ones (GUM G.4.1), one at the least.
    """
    upper = float((1 + coverage) / 2)
    if degrees_of_freedom is None:
        return _decimal(float(stats.norm.ppf(upper)))
    return _decimal(float(stats.t.ppf(upper, _whole(degrees_of_freedom))))


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


def _effective(
    components: Sequence[Component], pairs: Correlations, combined: Decimal
) -> tuple[Decimal | None, tuple[str, ...]]:
    """Give the effective degrees of freedom (Welch-Satterthwaite, GUM G.4.1 b)."""
    limited = [part for part in components if part.degrees_of_freedom and part.contribution]
    tied = {place for pair, r in pairs.items() if r for place in pair}
    of_tied = [
        part.degrees_of_freedom
        for place, part in enumerate(components)
        if place in tied and part.degrees_of_freedom
    ]
    if of_tied:
        return min(of_tied), (LEAST_OF_TIED,)
    share = sum(
        (
            part.contribution**4 / part.degrees_of_freedom
            for part in limited
            if part.degrees_of_freedom
        ),
        Decimal(0),
    )
    return (combined**4 / share if share else None), ()


def _r(pairs: Correlations, i: int, j: int) -> Decimal:
    return Decimal(1) if i == j else pairs.get((min(i, j), max(i, j)), Decimal(0))


def _whole(degrees_of_freedom: Decimal) -> int:
    return max(int(degrees_of_freedom.to_integral_value(rounding=ROUND_FLOOR)), 1)


def _decimal(value: float) -> Decimal:
    return to_figures(Decimal(repr(value)), 10)
