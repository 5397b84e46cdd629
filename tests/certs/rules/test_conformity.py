"""Decisions against ILAC-G8:09/2019, Table 1 and 4.2, and JCGM 106:2012."""

from decimal import Decimal

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from certs.rules.conformance_probability import NoProbability
from certs.rules.conformity import DecisionOutcome, decide
from certs.rules.decision_rule import INHERENT, Rule

GUARDED = Rule("w = U", Decimal(1))
ACCEPT = DecisionOutcome.ACCEPT
MAYBE = DecisionOutcome.CONDITIONAL_ACCEPT
HARDLY = DecisionOutcome.CONDITIONAL_REJECT
REJECT = DecisionOutcome.REJECT


def decided(measured_n, *, rule=GUARDED, u="500", expanded="1000", lower_n=None, upper_n=None):
    return decide(
        measured_n=measured_n,
        u_n=Decimal(u),
        expanded_n=Decimal(expanded),
        rule=rule,
        lower_n=lower_n,
        upper_n=upper_n,
    )


@pytest.mark.parametrize(
    ("multiple", "published"),
    [
        # ILAC-G8:09/2019, Table 1 (3, 1.5 and 0.83 from memory), with U = 2 u. The printed bounds
        # for 1.5 and 0.83 belong to k = 1.96 or are rounded up.
        pytest.param("3", 1e-9, id="3 U: less than 1 ppm"),
        pytest.param("1.5", 0.00135, id="1.5 U: less than 0.16 %"),
        pytest.param("1", 0.0228, id="1 U: less than 2.5 %"),
        pytest.param("0.83", 0.0485, id="0.83 U: less than 5 %"),
        pytest.param("0", 0.5, id="simple: less than 50 %"),
    ],
)
def test_risks_of_ilac_g8_table_1(multiple, published):
    found = decided(100_000, rule=Rule("r", Decimal(multiple)), lower_n=90_000)
    assert float(found.risk_at_limit) == pytest.approx(published, rel=0.02)


@pytest.mark.parametrize(
    ("measured_n", "lower", "upper"),
    [
        # ILAC-G8:09/2019, 4.2, the four zones about one limit; U = 1 kN, limit 50 kN.
        pytest.param(51_000, ACCEPT, HARDLY, id="on the acceptance limit of a minimum"),
        pytest.param(50_999, MAYBE, HARDLY, id="within the band"),
        pytest.param(50_000, MAYBE, MAYBE, id="on the limit"),
        pytest.param(49_999, HARDLY, MAYBE, id="just outside a minimum"),
        pytest.param(49_000, HARDLY, ACCEPT, id="on the acceptance limit of a maximum"),
        pytest.param(48_999, REJECT, ACCEPT, id="outside by more than the band"),
        pytest.param(51_001, ACCEPT, REJECT, id="inside by more than the band"),
    ],
)
def test_zones_about_one_limit(measured_n, lower, upper):
    assert decided(measured_n, lower_n=50_000).outcome is lower
    assert decided(measured_n, upper_n=50_000).outcome is upper


def test_a_minimum_is_guarded_upwards_and_a_maximum_downwards():
    found = decided(55_000, lower_n=50_000, upper_n=60_000)
    assert (found.accepted_from_n, found.accepted_to_n) == (51_000, 59_000)
    assert found.guard_band_n == 1000
    assert found.is_accepted


def test_acceptance_limits_are_rounded_to_the_safe_side():
    found = decided(55_000, u="0.2", expanded="0.4", lower_n=50_000, upper_n=60_000)
    assert (found.accepted_from_n, found.accepted_to_n) == (50_001, 59_999)


def test_measured_at_least_the_minimum_is_the_standards_own_rule():
    found = decided(50_000, rule=INHERENT, lower_n=50_000)
    assert found.outcome is ACCEPT
    assert found.accepted_from_n == 50_000
    assert found.probability == found.risk == Decimal("0.5")
    assert decided(49_999, rule=INHERENT, lower_n=50_000).outcome is REJECT


def test_bands_that_meet_leave_nothing_to_accept():
    found = decided(50_500, lower_n=50_000, upper_n=51_000)
    assert found.outcome is MAYBE
    assert found.risk_at_limit is None
    assert "no force" in found.reason


def test_without_the_uncertainty_a_guarded_rule_cannot_say():
    found = decide(
        measured_n=60_000, u_n=None, expanded_n=None, rule=GUARDED, lower_n=50_000, upper_n=None
    )
    assert found.outcome is DecisionOutcome.CANNOT_SAY
    assert found.accepted_from_n is None
    assert "not known in full" in found.reason
    assert found.as_json()["probability"] is None


def test_without_the_uncertainty_the_standards_own_rule_still_says():
    found = decide(
        measured_n=60_000, u_n=None, expanded_n=None, rule=INHERENT, lower_n=50_000, upper_n=None
    )
    assert found.outcome is ACCEPT
    assert found.accepted_from_n == 50_000
    assert found.probability is None


def test_nothing_uncertain_bears_no_risk():
    found = decided(50_000, u="0", expanded="0", lower_n=50_000)
    assert (found.outcome, found.risk, found.risk_at_limit) == (ACCEPT, 0, 0)


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({}, id="no limit"),
        pytest.param({"lower_n": 2, "upper_n": 1}, id="out of order"),
        pytest.param({"lower_n": 2, "u": "-1"}, id="negative"),
        pytest.param({"lower_n": 2, "expanded": "-1"}, id="negative expanded"),
    ],
)
def test_what_cannot_be_decided(changes):
    with pytest.raises(NoProbability):
        decided(5, **changes)


def test_what_is_kept_holds_no_float():
    kept = decided(50_500, lower_n=50_000).as_json()
    assert kept["outcome"] == "conditional_accept"
    assert kept["outcome_text"] == "conditional pass"
    # Phi(1) = 0.8413 (tables of the normal distribution).
    assert kept["probability"] == "0.8413447"
    assert kept["rule"]["multiple"] == "1"
    assert not any(isinstance(value, float) for value in kept.values())


NEWTONS = st.integers(1, 10**7)
DOUBTS = st.decimals(min_value="0.01", max_value=10**5, places=2)
MULTIPLES = st.decimals(min_value="0.01", max_value=3, places=2)
ORDER = list(DecisionOutcome)


@given(NEWTONS, DOUBTS, MULTIPLES, NEWTONS)
def test_a_guarded_rule_is_never_laxer_than_simple_acceptance(measured_n, u, multiple, limit):
    facts = {"measured_n": measured_n, "u_n": u, "expanded_n": 2 * u, "lower_n": limit}
    guarded = decide(rule=Rule("r", multiple), **facts)
    simple = decide(rule=INHERENT, **facts)
    assert simple.is_accepted or not guarded.is_accepted
    assert guarded.risk_at_limit <= simple.risk_at_limit


@given(NEWTONS, NEWTONS, DOUBTS, MULTIPLES, NEWTONS)
def test_more_measured_never_decides_worse_on_a_minimum(one, other, u, multiple, limit):
    less, more = sorted((one, other))
    facts = {"u_n": u, "expanded_n": 2 * u, "rule": Rule("r", multiple), "lower_n": limit}
    worse = ORDER.index(decide(measured_n=less, **facts).outcome)
    assert ORDER.index(decide(measured_n=more, **facts).outcome) <= worse


@given(NEWTONS, DOUBTS, DOUBTS, MULTIPLES, NEWTONS)
def test_more_uncertainty_never_accepts_what_less_does_not(measured_n, one, other, multiple, limit):
    less, more = sorted((one, other))
    facts = {"measured_n": measured_n, "rule": Rule("r", multiple), "lower_n": limit}
    assume(decide(u_n=more, expanded_n=2 * more, **facts).is_accepted)
    assert decide(u_n=less, expanded_n=2 * less, **facts).is_accepted


@given(NEWTONS, DOUBTS, MULTIPLES, NEWTONS)
def test_what_is_accepted_bears_no_more_than_the_risk_at_the_limit(measured_n, u, multiple, limit):
    found = decide(
        measured_n=measured_n, u_n=u, expanded_n=2 * u, rule=Rule("r", multiple), lower_n=limit
    )
    assume(found.is_accepted)
    assert found.risk <= found.risk_at_limit
