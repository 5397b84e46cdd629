"""Which tests their decision rule lets support a certificate, and how the others are told."""

import pytest

from certs.models import BreakingTest, DecisionRule
from certs.queries.decision_rules import decision_rule_of, rule_of
from certs.queries.decisions import decision_stands, turned_down
from certs.rules.decision_rule import INHERENT
from tests.certs.deciding import given_rule

RULE = DecisionRule(pk=1, code="DR-00001", name="guard band of U")


@pytest.mark.parametrize(
    ("rule", "decision", "stands"),
    [
        pytest.param(None, {}, True, id="no rule, nothing kept"),
        pytest.param(None, {"outcome": "reject"}, True, id="no rule: the standard has judged"),
        pytest.param(RULE, {"outcome": "accept"}, True, id="accepted"),
        pytest.param(RULE, {"outcome": "conditional_accept"}, False, id="with a condition"),
        pytest.param(RULE, {"outcome": "conditional_reject"}, False, id="rejected with one"),
        pytest.param(RULE, {"outcome": "reject"}, False, id="rejected"),
        pytest.param(RULE, {"outcome": "cannot_say"}, False, id="cannot be said"),
        pytest.param(RULE, {}, False, id="a rule, and nothing decided"),
    ],
)
def test_a_named_rule_must_accept(rule, decision, stands):
    test = BreakingTest(code="BT-00001", decision_rule=rule, decision=decision)
    assert decision_stands(test) is stands
    assert bool(turned_down(test)) is not stands


def test_what_is_turned_down_names_test_rule_and_outcome():
    decision = {"outcome": "conditional_accept", "outcome_text": "conditional pass"}
    test = BreakingTest(code="BT-00001", decision_rule=RULE, decision=decision)
    for word in ("BT-00001", "DR-00001", "conditional pass"):
        assert word in turned_down(test)


@pytest.mark.django_db
def test_a_rule_is_found_by_its_code_however_typed():
    rule = given_rule(multiple="0.83")
    assert decision_rule_of(f" {rule.code.lower()} ") == rule
    assert decision_rule_of("DR-99999") is None
    assert str(rule_of(rule).multiple) == "0.83"


def test_without_a_rule_the_standards_own_counts():
    assert rule_of(None) is INHERENT
