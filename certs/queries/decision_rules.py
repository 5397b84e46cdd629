"""The register of decision rules, the latest chosen first."""

from django.db.models import QuerySet

from certs.models import DecisionRule


def decision_rules() -> QuerySet[DecisionRule]:
    """Return the decision rules with whom each was agreed with and who chose it."""
    return DecisionRule.objects.select_related("agreed_with", "chosen_by").order_by("-id")


def decision_rule_of(code: str) -> DecisionRule | None:
    """Return a decision rule by its code."""
    return decision_rules().filter(code=code.strip().upper()).first()
