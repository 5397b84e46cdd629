"""Decides on the measured force of a test under the rule that was chosen before it.

The outcome of a test stays what its standard makes of it. A rule that is named comes on top: the
test supports a certificate only where its decision is "accept", without a condition
(`certs.queries.decisions.decision_stands`). So a test may meet its standard and yet support no
certificate, because customer and house agreed on more. Without a rule the standard's own holds:
measured at least the force required, with no guard band.

What a budget lacks makes a guarded rule unable to say, which supports nothing either; the test is
recorded all the same, as it was made.
"""

from dataclasses import replace
from datetime import datetime
from typing import NamedTuple

from django.utils import timezone

from certs.models import DecisionRule
from certs.queries.decision_rules import rule_of
from certs.queries.force_uncertainty import budget_of
from certs.rules.conformity import Decision, decide
from certs.rules.uncertainty_budget import Budget
from inventory.models import Calibration, Party
from inventory.rules.canonical import JsonValue
from inventory.rules.refusal import Refusal

Kept = dict[str, JsonValue]


class CannotDecide(Refusal):
    """A rule that this test cannot be decided under."""


class Judged(NamedTuple):
    """What is kept with a test: the budget and the decision as plain JSON, and the decision."""

    uncertainty: Kept
    decision_json: Kept
    decision: Decision


def decide_force(
    *,
    measured_n: int,
    required_n: int,
    upper_n: int | None = None,
    calibration: Calibration | None,
    decision_rule: DecisionRule | None,
    tested_at: datetime,
    customer: Party | None = None,
) -> Judged:
    """Decide whether a measured force in N reaches `required_n` and does not pass `upper_n`.

    `customer` is whom the thing tested is for, where that is known. Raises CannotDecide for a
    rule chosen after the test, or agreed with another customer.
    """
    check_rule(decision_rule, tested_at=tested_at, customer=customer)
    budget = budget_of(measured_n, calibration=calibration)
    is_whole = budget is not None and budget.is_complete
    decision = decide(
        measured_n=measured_n,
        u_n=budget.combined if budget and is_whole else None,
        expanded_n=budget.expanded if budget and is_whole else None,
        rule=rule_of(decision_rule),
        lower_n=required_n,
        upper_n=upper_n,
    )
    decision = replace(decision, is_provisional=budget is not None and budget.is_provisional)
    return Judged(_kept(budget), decision.as_json(), decision)


def check_rule(
    decision_rule: DecisionRule | None, *, tested_at: datetime, customer: Party | None
) -> None:
    """Refuse a rule that was chosen after the test or agreed with somebody else.

    A rule looked for once the value is known is no rule (ISO/IEC 17025:2017, 7.8.6).
    Raises CannotDecide.
    """
    if decision_rule is None:
        return
    if decision_rule.chosen_at > tested_at:
        chosen = timezone.localtime(decision_rule.chosen_at)
        message = (
            f"{decision_rule.code} was chosen on {chosen:%Y-%m-%d at %H:%M}, after this test; a"
            " rule is chosen before the value is known."
        )
        raise CannotDecide(message, field="decision_rule")
    agreed = decision_rule.agreed_with
    if agreed is not None and customer is not None and agreed.pk != customer.pk:
        message = f"{decision_rule.code} was agreed with {agreed}, and this is for {customer}."
        raise CannotDecide(message, field="decision_rule")


def _kept(budget: Budget | None) -> Kept:
    return {} if budget is None else budget.as_json()
