"""Whether the decision rule of a test lets it support a certificate.

The verdict of the test stands by its standard, whatever the rule says; what the rule decided was
kept on the day of the test (`certs.services.decide`).
"""

from certs.models import BreakingTest, ProofTest
from certs.rules.conformity import DecisionOutcome
from inventory.models import Assembly


def decision_stands(test: BreakingTest | ProofTest) -> bool:
    """Tell whether no rule was named for a test, or the rule accepts without a condition."""
    return test.decision_rule_id is None or _outcome(test) == DecisionOutcome.ACCEPT.value


def turned_down(test: BreakingTest | ProofTest) -> str:
    """Say why a test supports no certificate under its rule; empty when it may."""
    if decision_stands(test) or test.decision_rule is None:
        return ""
    words = str(test.decision.get("outcome_text", "not decided"))
    return (
        f"{test.code}: its decision rule {test.decision_rule} gives “{words}”; only “pass”"
        " supports a certificate."
    )


def proof_tests_turned_down(assembly: Assembly) -> list[str]:
    """Say of each proof load that passed by its standard why its rule does not accept it."""
    passed = ProofTest.objects.filter(
        assembly=assembly,
        reversal=None,
        outcome=ProofTest.Outcome.PASSES,
        decision_rule__isnull=False,
    ).select_related("decision_rule")
    return [text for test in passed.order_by("-tested_at", "-id") if (text := turned_down(test))]


def _outcome(test: BreakingTest | ProofTest) -> str:
    return str(test.decision.get("outcome", ""))
