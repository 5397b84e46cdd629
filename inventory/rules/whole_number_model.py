"""A small linear model with whole numbers, solved by HiGHS through SciPy.

Floats are inside the solver only: what comes out is rounded, and whoever asked recounts it.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from math import ceil, inf
from typing import Final

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

_ALMOST: Final = 1e-5
_SOLVED: Final = 0
Terms = Mapping[int, int]
"""Coefficients by the number of the variable."""


@dataclass(frozen=True, slots=True)
class Solution:
    """Whole values of all variables, and what the objective cannot be below; None: not known."""

    values: tuple[int, ...]
    is_optimal: bool
    bound: int | None


@dataclass(slots=True)
class WholeNumberModel:
    """Variables from 0 to a limit, all whole, and rows `low <= sum of terms <= high`."""

    limits: list[int] = field(default_factory=list)
    rows: list[tuple[dict[int, int], float, float]] = field(default_factory=list)

    def variable(self, *, most: int) -> int:
        """Add a variable and return its number."""
        self.limits.append(most)
        return len(self.limits) - 1

    def at_most(self, terms: Terms, high: int) -> None:
        """Add a row that may not be above `high`."""
        self.rows.append((dict(terms), -inf, high))

    def at_least(self, terms: Terms, low: int) -> None:
        """Add a row that may not be below `low`."""
        self.rows.append((dict(terms), low, inf))

    def equal(self, terms: Terms, value: int) -> None:
        """Add a row that is this value."""
        self.rows.append((dict(terms), value, value))

    def minimise(self, objective: Terms, *, seconds: float) -> Solution | None:
        """Solve it; None when nothing was found within the time, or there is nothing."""
        costs = np.zeros(len(self.limits))
        for variable, cost in objective.items():
            costs[variable] = cost
        found = milp(
            costs,
            integrality=np.ones(len(self.limits), dtype=np.int64),
            bounds=Bounds(np.zeros(len(self.limits)), np.array(self.limits, dtype=float)),
            constraints=self._constraints(),
            options={"time_limit": seconds, "mip_rel_gap": 0.0},
        )
        if found.x is None:
            return None
        values = tuple(int(value) for value in np.rint(found.x))
        total = sum(cost * values[variable] for variable, cost in objective.items())
        dual = found.mip_dual_bound
        bound = ceil(dual - _ALMOST) if np.isfinite(dual) else None
        # The solver works with floats: it is believed only as far as whole numbers agree.
        is_optimal = (
            int(found.status) == _SOLVED
            and bound is not None
            and bound >= total
            and self.holds(values)
        )
        return Solution(values, is_optimal=is_optimal, bound=bound)

    def holds(self, values: tuple[int, ...]) -> bool:
        """Tell, in whole numbers, whether values keep to every row and limit."""
        sums = (
            (sum(cost * values[at] for at, cost in terms.items()), low, high)
            for terms, low, high in self.rows
        )
        limited = zip(values, self.limits, strict=True)
        return all(0 <= v <= most for v, most in limited) and all(
            low <= total <= high for total, low, high in sums
        )

    def _constraints(self) -> LinearConstraint:
        entries = [
            (row, at, cost)
            for row, (terms, _, _) in enumerate(self.rows)
            for at, cost in terms.items()
        ]
        data = np.array([cost for _, _, cost in entries], dtype=float)
        where = ([row for row, _, _ in entries], [at for _, at, _ in entries])
        matrix = csr_array((data, where), shape=(len(self.rows), len(self.limits)))
        return LinearConstraint(
            matrix,
            np.array([low for _, low, _ in self.rows]),
            np.array([high for _, _, high in self.rows]),
        )
