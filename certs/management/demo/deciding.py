"""Plays the agreement on a decision rule, before anything is measured under it."""

from certs.management.demo.stage import Stage
from certs.models import DecisionRule
from certs.services.decision_rules import choose_rule


def agree_on_a_guard_band(stage: Stage, *, customer: str) -> DecisionRule:
    """A customer asks for more than the standard does: a guard band of one U."""
    return choose_rule(
        name="guard band of U for breaking forces",
        kind=DecisionRule.Kind.GUARDED.value,
        multiple="1",
        agreed_with=stage.parties[customer],
        paper="frame contract (invented), annex 2, clause 4",
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )
