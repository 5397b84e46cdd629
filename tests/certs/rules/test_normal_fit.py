import math
import random
import statistics

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.normal_fit import fit_normal

# US EPA (2009), Statistical Analysis of Groundwater Monitoring Data (EPA 530/R-09-007), example
# 15-1: manganese in ppb in 25 samples, six of them below a limit of detection (the figures from
# memory, the first and last three read). Logarithms, turned round, so that "below" is "above".
MANGANESE = [
    *(12.1, 16.9, 21.6, 7.7, 53.6, 9.5, 45.9, 5.3, 12.6, 106.3),
    *(34.5, 6.3, 11.9, 10.0, 77.2, 17.9, 22.7, 3.3, 8.4),
]
MANGANESE_LIMITS = [5.0, 2.0, 5.0, 5.0, 2.0, 2.0]
# Gupta, Biometrika 39 (1952): days to the death of mice, stopped with the seventh of ten (figures
# and results from memory).
MICE_DAYS = [41, 44, 46, 54, 55, 58, 60]
VALUES = st.lists(
    st.floats(min_value=0.8, max_value=1.4), min_size=3, max_size=15, unique=True
).filter(lambda values: statistics.pstdev(values) > 1e-3)


# Results read in the documentation of an R package that reworks the example: 2.215905, 1.356291.
def test_epa_example_of_manganese():
    fit = fit_normal([-math.log(x) for x in MANGANESE], [-math.log(x) for x in MANGANESE_LIMITS])
    assert -fit.mean == pytest.approx(2.215905, abs=2e-6)
    assert fit.sd == pytest.approx(1.356291, abs=2e-6)


def test_guptas_mice():
    fit = fit_normal([math.log10(day) for day in MICE_DAYS], [math.log10(60)] * 3)
    assert (round(fit.mean, 3), round(fit.sd, 3)) == (1.742, 0.079)


@given(VALUES)
def test_without_lower_bounds_it_is_the_ordinary_fit(values):
    fit = fit_normal(values, [])
    assert fit.mean == pytest.approx(statistics.fmean(values), abs=1e-7)
    assert fit.sd == pytest.approx(statistics.pstdev(values), rel=1e-5)


@given(VALUES)
def test_bound_far_below_says_nothing(values):
    low = min(values) - 60 * statistics.pstdev(values)
    plain, bounded = fit_normal(values, []), fit_normal(values, [low])
    assert bounded.mean == pytest.approx(plain.mean, rel=1e-5)
    assert bounded.sd == pytest.approx(plain.sd, rel=1e-4)


@given(VALUES, st.floats(min_value=0.8, max_value=1.4))
def test_bound_never_lowers_the_mean(values, bound):
    assert fit_normal(values, [bound]).mean >= statistics.fmean(values) - 1e-6


@given(VALUES, st.lists(st.floats(min_value=0.8, max_value=1.4), min_size=1, max_size=4))
def test_order_does_not_matter(values, bounds):
    there = fit_normal(values, bounds)
    back = fit_normal(values[::-1], bounds[::-1])
    assert back.mean == pytest.approx(there.mean, rel=1e-5)
    assert back.sd == pytest.approx(there.sd, rel=1e-3)


# At the top of the likelihood both slopes vanish (Cohen 1959): the mean is that of the sample
# with each bound replaced by what is expected beyond it.
@given(VALUES, st.lists(st.floats(min_value=0.8, max_value=1.4), min_size=1, max_size=4))
def test_mean_is_that_of_the_expected_values(values, bounds):
    fit = fit_normal(values, bounds)
    normal = statistics.NormalDist()

    def expected(bound):
        short = (bound - fit.mean) / fit.sd
        return fit.mean + fit.sd * normal.pdf(short) / normal.cdf(-short)

    whole = [*values, *map(expected, bounds)]
    assert statistics.fmean(whole) == pytest.approx(fit.mean, abs=2e-4)


def test_truth_is_found_again_in_many_results():
    chance = random.Random(3108)  # noqa: S311 -- no secret
    exact, bounds = [], []
    for _ in range(6000):
        strength, grip = chance.gauss(1.06, 0.03), chance.gauss(1.09, 0.05)
        (exact if strength < grip else bounds).append(min(strength, grip))
    fit = fit_normal(exact, bounds)
    assert fit.mean == pytest.approx(1.06, abs=0.002)
    assert fit.sd == pytest.approx(0.03, abs=0.002)
    # Leaving the bounds out, or taking them as exact, would both understate it.
    assert statistics.fmean(exact) < 1.055
    assert statistics.fmean([*exact, *bounds]) < 1.055


@pytest.mark.parametrize("values", [[], [1.0], [1.0, 1.0]], ids=["none", "one", "two alike"])
def test_no_spread_without_two_that_differ(values):
    with pytest.raises(ValueError, match="two exact values"):
        fit_normal(values, [1.0])
