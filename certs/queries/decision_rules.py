"""The register of decision rules, the latest chosen first."""

from decimal import Decimal

from django.db.models import QuerySet

from certs.models import DecisionRule
from certs.rules.decision_rule import INHERENT, Rule


def decision_rules() -> QuerySet[DecisionRule]:
    """Return the decision rules with whom each was agreed with and who chose it."""
    return DecisionRule.objects.select_related("agreed_with", "chosen_by").order_by("-id")


def decision_rule_of(code: str) -> DecisionRule | None:
    """Return a decision rule by its code."""
    return decision_rules().filter(code=code.strip().upper()).first()


def rule_of(chosen: DecisionRule | None) -> Rule:
    """Give a chosen rule to the rules; without one, the standard's own."""
    if chosen is None:
        return INHERENT
    return Rule(
        name=chosen.name,
        multiple=Decimal(chosen.multiple or 0),
        paper=chosen.paper,
        code=chosen.code,
    )
