"""Enters the rules by which the uncertainty of a measurement counts, before anything is measured.

A rule is never changed: another one is chosen under another name. What a rule makes of a test is
decided by `decide`.
"""

from datetime import datetime

from django.db import transaction

from certs.models import DecisionRule
from certs.rules.decision_rule import read_multiple
from certs.rules.derived import trimmed
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Party, Person
from inventory.rules.refusal import Refusal
from inventory.services import journal, numbering
from inventory.services.guarded import add_row


class CannotChooseRule(Refusal):
    """A decision rule cannot be entered."""


def choose_rule(
    *,
    name: str,
    kind: str,
    multiple: str = "",
    agreed_with: Party | None = None,
    paper: str,
    by: Person,
    at: datetime,
) -> DecisionRule:
    """Enter a decision rule: simple acceptance, or a guard band of `multiple` times U.

    `paper` names where the rule is agreed or laid down. It counts for tests from now on. Raises
    CannotChooseRule for a name that is taken, a field that is empty, a party that is no customer;
    NoMultiple for a multiple that cannot be.
    """
    require(by=by, act=ClaimAct.CHOOSE_DECISION_RULE)
    if agreed_with is not None and agreed_with.kind != Party.Kind.CUSTOMER:
        message = "A rule is agreed with a customer; leave this empty for a rule of the house."
        raise CannotChooseRule(message, field="agreed_with")
    wide = _multiple(kind, multiple)
    with transaction.atomic():
        rule = DecisionRule(
            code=numbering.take_code(numbering.DECISION_RULE),
            name=name.strip(),
            kind=kind,
            multiple=wide,
            agreed_with=agreed_with,
            paper=paper.strip(),
            chosen_at=at,
            chosen_by=by,
        )
        add_row(rule, refusal=CannotChooseRule)
        journal.append(
            at=at,
            by=by,
            act=ClaimAct.CHOOSE_DECISION_RULE.value,
            subject=rule.code,
            detail={
                "kind": rule.kind,
                "multiple": rule.multiple,
                "agreed_with": agreed_with.code if agreed_with else "",
            },
            rows=[rule],
        )
    return rule


def _multiple(kind: str, text: str) -> str:
    """Give the multiple as it is kept; simple acceptance has none."""
    if kind == DecisionRule.Kind.GUARDED:
        return trimmed(read_multiple(text))
    if text.strip():
        message = "Simple acceptance keeps no guard band: leave the multiple empty."
        raise CannotChooseRule(message, field="multiple")
    return ""
