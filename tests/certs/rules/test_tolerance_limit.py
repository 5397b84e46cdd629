import csv
import math
import random
from decimal import Decimal
from pathlib import Path
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.tolerance_limit import (
    APPROXIMATE,
    lower_tolerance_limit,
    lowest_of_all,
    tolerance_factor,
)

VECTORS = Path(__file__).parents[2] / "vectors"
with (VECTORS / "one_sided_tolerance_factors.csv").open(newline="", encoding="utf-8") as sheet:
    PUBLISHED = tuple(csv.DictReader(sheet))
NINETY_FIVE = Decimal("0.95")


def factor(n, coverage, confidence):
    return tolerance_factor(n, coverage=Decimal(coverage), confidence=Decimal(confidence))


def limit(exact, bounds=()):
    return lower_tolerance_limit(
        [Decimal(value) for value in exact],
        [Decimal(value) for value in bounds],
        quantity="force",
        coverage=NINETY_FIVE,
        confidence=NINETY_FIVE,
    )


def spoken(row):
    return f"{row['n']} values, {row['coverage_p']} with {row['confidence']}"


# tests/vectors/README.md: 0.99, 0.9, 6 and 43 are printed by NIST as 4.4111 and 1.8740.
@pytest.mark.parametrize("row", PUBLISHED, ids=spoken)
def test_factor_is_the_tabulated_one(row):
    k = factor(int(row["n"]), row["coverage_p"], row["confidence"])
    assert round(k, 4) == float(row["k_exact_noncentral_t"])


# Apart from any t distribution: the confidence that mean - k s stays below the quantile is the
# integral of Phi(√n (k s - z)) over the density of s, by Simpson's rule alone.
@pytest.mark.parametrize("row", PUBLISHED, ids=spoken)
def test_factor_gives_the_confidence_by_integration(row):
    n = int(row["n"])
    k, z = (
        factor(n, row["coverage_p"], row["confidence"]),
        NormalDist().inv_cdf(float(row["coverage_p"])),
    )
    dof = n - 1
    s = np.linspace(1e-9, 8.0, 20_001)
    log_density = (
        (dof - 1) * np.log(s)
        - dof * s**2 / 2
        + dof / 2 * math.log(dof / 2)
        + math.log(2)
        - math.lgamma(dof / 2)
    )
    reached = [NormalDist().cdf(math.sqrt(n) * (k * one - z)) for one in s]
    weights = np.where(np.arange(len(s)) % 2, 4, 2)
    weights[[0, -1]] = 1
    confidence = (weights * np.exp(log_density) * reached).sum() * (s[1] - s[0]) / 3
    assert confidence == pytest.approx(float(row["confidence"]), abs=1e-6)


# NIST e-Handbook 7.2.6.3 prints both ways to k for 43 and for 6 values: the approximation is
# near for many values and far off for few, so it is not used.
@pytest.mark.parametrize(
    ("n", "exact", "natrella"),
    [pytest.param(43, 1.8740, 1.8752, id="43 values"), pytest.param(6, 4.4111, 5.2808, id="six")],
)
def test_exact_factor_and_the_approximation_that_is_not_used(n, exact, natrella):
    z, zc = NormalDist().inv_cdf(0.90), NormalDist().inv_cdf(0.99)
    a, b = 1 - zc**2 / (2 * (n - 1)), z**2 - zc**2 / n
    assert round((z + math.sqrt(z**2 - a * b)) / a, 4) == pytest.approx(natrella, abs=1e-4)
    assert round(factor(n, "0.90", "0.99"), 4) == exact


def test_limit_is_mean_less_k_standard_deviations():
    found = limit(["1.02", "1.04", "1.06", "1.08", "1.10"])
    # Mean 1.06, s = √0.001; k for five of 95 % with 95 %: 4.203 in printed tables (from memory).
    assert float(found.unrounded) == pytest.approx(1.06 - 4.203 * math.sqrt(0.001), abs=2e-5)
    assert found.stated == Decimal("0.927")
    assert "T = 1.06 - 4.2027 × 0.031623" in found.steps()[-2]


def test_lower_bound_makes_it_approximate_and_says_so():
    found = limit(["1.02", "1.04", "1.06", "1.08", "1.10"], ["1.05"])
    assert APPROXIMATE in found.remarks
    assert not limit(["1.02", "1.04", "1.06", "1.08", "1.10"]).remarks
    assert any("lower bounds taken as such" in step for step in found.steps())


# The stated confidence of the approximation, tried on rope whose truth is known: 95 % reach the
# true quantile in about 95 of 100 records with three lower bounds among ten results.
def test_approximation_keeps_its_confidence():
    chance = random.Random(12385)  # noqa: S311 -- no secret
    true = 1.06 - NormalDist().inv_cdf(0.95) * 0.03
    kept, runs = 0, 400
    for _ in range(runs):
        strength = [chance.gauss(1.06, 0.03) for _ in range(10)]
        bounds = [one - chance.expovariate(1 / 0.015) for one in strength[7:]]
        exact = [f"{one:.6f}" for one in strength[:7]]
        kept += limit(exact, [f"{one:.6f}" for one in bounds]).unrounded <= Decimal(true)
    assert kept / runs >= 0.92


@given(st.lists(st.decimals("0.8", "1.3", places=3), min_size=5, max_size=12, unique=True))
def test_limit_lies_below_the_mean_and_shifts_with_the_values(values):
    found = limit(values)
    assert found.unrounded < sum(values) / len(values)
    assert found.stated <= found.unrounded
    moved = limit([value + 1 for value in values])
    assert float(moved.unrounded - found.unrounded) == pytest.approx(1, abs=1e-5)


@given(st.integers(3, 60), st.integers(1, 20))
def test_more_results_need_a_smaller_factor(n, more):
    assert factor(n + more, "0.95", "0.95") < factor(n, "0.95", "0.95")


@pytest.mark.parametrize(
    ("n", "coverage", "confidence"),
    [
        pytest.param(1, "0.9", "0.9", id="one value"),
        pytest.param(5, "0", "0.9", id="nobody"),
        pytest.param(5, "1", "0.9", id="everybody"),
        pytest.param(5, "0.9", "1", id="certainty"),
        pytest.param(5, "0.9", "0", id="no confidence"),
    ],
)
def test_there_is_no_factor_for(n, coverage, confidence):
    with pytest.raises(ValueError, match="no factor"):
        factor(n, coverage, confidence)


def test_values_all_alike_have_no_limit():
    with pytest.raises(ValueError, match="two exact values"):
        limit(["1.05"] * 6)


# Wilks (1941), from memory: 59 results for 95 % with 95 % confidence, 29 for 90 % with 95 %.
@pytest.mark.parametrize(("count", "coverage"), [(59, "0.95"), (29, "0.90")])
def test_lowest_of_enough_results_needs_no_distribution(count, coverage):
    def sure(n):
        return lowest_of_all(
            n, lowest=Decimal(1), quantity="force", coverage=Decimal(coverage)
        ).unrounded

    assert sure(count - 1) < NINETY_FIVE <= sure(count)
