"""Global risks against Deaver's values (NCSL), capability against the NIST e-Handbook."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from certs.rules.global_risk import Limits, NoRisk, capability, global_risk, nonconforming

TWO = Limits.of(lower=-2, upper=2)
WIDER = Limits.of(lower=-2.5, upper=2.5)


@pytest.mark.parametrize(
    ("u", "limits", "consumers", "producers"),
    [
        # Deaver (NCSL) as used in a published test suite: process sd 1.
        pytest.param(0.25, TWO, 0.008, 0.015, id="limits 2, ratio 4"),
        pytest.param(0.25, WIDER, 0.0025, None, id="limits 2.5, ratio 4"),
        pytest.param(1, WIDER, 0.005, None, id="limits 2.5, ratio 1"),
    ],
)
def test_published_risks(u, limits, consumers, producers):
    found = global_risk(mean=0, sd=1, u=u, limits=limits)
    assert found.consumers == pytest.approx(consumers, abs=0.0005)
    if producers is not None:
        assert found.producers == pytest.approx(producers, abs=0.0005)


@pytest.mark.parametrize(
    ("mean", "sd", "lower", "upper", "cp", "cpk"),
    [
        # A published test suite of risk software: limits 9 and 11, mean 10, sd 0.4.
        pytest.param("10", "0.4", "9", "11", "0.83333", "0.83333", id="centred"),
        # NIST/SEMATECH e-Handbook, 6.1.6.
        pytest.param("16", "2", "8", "20", "1", "0.66667", id="off centre"),
    ],
)
def test_published_capabilities(mean, sd, lower, upper, cp, cpk):
    found = capability(
        mean=Decimal(mean), sd=Decimal(sd), lower=Decimal(lower), upper=Decimal(upper)
    )
    assert round(found.cp, 5) == Decimal(cp)
    assert round(found.cpk, 5) == Decimal(cpk)


def test_each_side_of_a_capability():
    # NIST/SEMATECH e-Handbook, 6.1.6: Cpu 0.667, Cpl 1.333.
    found = capability(mean=Decimal(16), sd=Decimal(2), lower=Decimal(8), upper=Decimal(20))
    assert (round(found.upper, 3), round(found.lower, 3)) == (Decimal("0.667"), Decimal("1.333"))


def test_one_limit_has_one_side():
    found = capability(mean=Decimal(16), sd=Decimal(2), lower=Decimal(8))
    assert (found.cp, found.upper, round(found.cpk, 3)) == (None, None, Decimal("1.333"))


def test_published_share_that_does_not_conform():
    # The same test suite: 0.01242.
    limits = Limits.of(lower=9, upper=11)
    assert nonconforming(mean=10, sd=0.4, limits=limits) == pytest.approx(0.01242, abs=5e-6)


@pytest.mark.parametrize("guard_band", [0, 0.3])
@pytest.mark.parametrize(
    ("sd", "u"),
    [
        pytest.param(1.0, 0.4, id="as usual"),
        pytest.param(1.0, 0.002, id="measured very well"),
        pytest.param(0.05, 2.0, id="measured very badly"),
    ],
)
def test_a_minimum_against_the_bivariate_normal(guard_band, sd, u):
    # True value and reading are jointly normal: P(x < L and y >= A) without any integral of ours.
    mean, lower = 1.0, 0.2
    limits = Limits.of(lower=lower, guard_band=guard_band)
    found = global_risk(mean=mean, sd=sd, u=u, limits=limits)
    joint = stats.multivariate_normal([mean, mean], [[sd**2, sd**2], [sd**2, sd**2 + u**2]])
    both_below = float(joint.cdf([lower, lower + guard_band]))
    below = float(stats.norm.cdf(lower, mean, sd))
    turned_away = float(stats.norm.cdf(lower + guard_band, mean, (sd**2 + u**2) ** 0.5))
    assert found.consumers == pytest.approx(below - both_below, abs=1e-6)
    assert found.producers == pytest.approx(turned_away - both_below, abs=1e-6)
    assert found.accepted == pytest.approx(1 - turned_away, abs=1e-6)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        pytest.param({}, "needs a lower or an upper", id="no limit"),
        pytest.param({"lower": 2, "upper": 2}, "below the upper", id="no room"),
        pytest.param({"lower": 2, "guard_band": -1}, "not below nought", id="negative band"),
    ],
)
def test_limits_that_are_none(arguments, words):
    with pytest.raises(NoRisk, match=words):
        Limits.of(**arguments)


@pytest.mark.parametrize("figures", [{"sd": 0, "u": 1}, {"sd": 1, "u": 0}, {"sd": -1, "u": 1}])
def test_deviations_are_above_nought(figures):
    with pytest.raises(NoRisk, match="above nought"):
        global_risk(mean=0, limits=TWO, **figures)


def test_neither_share_nor_capability_without_spread():
    with pytest.raises(NoRisk):
        nonconforming(mean=0, sd=0, limits=TWO)
    with pytest.raises(NoRisk):
        capability(mean=Decimal(0), sd=Decimal(0), lower=Decimal(-1))


def test_bands_that_meet_accept_nothing():
    found = global_risk(mean=0, sd=1, u=0.5, limits=Limits.of(lower=-1, upper=1, guard_band=2))
    assert found.consumers == 0
    assert found.producers == pytest.approx(found.conforming)
    assert found.accepted == pytest.approx(0, abs=1e-9)


SPREADS = st.floats(0.01, 100)
PLACES = st.floats(-50, 50)


@settings(max_examples=40)
@given(PLACES, SPREADS, SPREADS, st.floats(0, 10))
def test_a_guard_band_moves_the_risk_from_consumer_to_producer(mean, sd, u, band):
    plain = global_risk(mean=mean, sd=sd, u=u, limits=Limits.of(lower=0))
    guarded = global_risk(mean=mean, sd=sd, u=u, limits=Limits.of(lower=0, guard_band=band))
    assert guarded.consumers <= plain.consumers + 1e-9
    assert guarded.producers >= plain.producers - 1e-9
    for risk in (plain, guarded):
        assert -1e-9 <= risk.consumers <= 1 - risk.conforming + 1e-9
        assert -1e-9 <= risk.producers <= risk.conforming + 1e-9


@settings(max_examples=40)
@given(PLACES, SPREADS, SPREADS)
def test_a_minimum_mirrors_a_maximum(mean, sd, u):
    low = global_risk(mean=mean, sd=sd, u=u, limits=Limits.of(lower=0))
    high = global_risk(mean=-mean, sd=sd, u=u, limits=Limits.of(upper=0))
    assert low.consumers == pytest.approx(high.consumers, abs=1e-9)
    assert low.producers == pytest.approx(high.producers, abs=1e-9)
