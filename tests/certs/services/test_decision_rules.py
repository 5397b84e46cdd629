"""Choosing a decision rule: what is kept, and what is refused."""

import pytest

from certs.models import DecisionRule
from certs.rules.decision_rule import NoMultiple
from certs.services.decision_rules import CannotChooseRule, choose_rule
from inventory.models import JournalEntry
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from tests.certs.deciding import given_rule
from tests.factories import MOMENT, given_customer, given_mill, given_person

pytestmark = pytest.mark.django_db


def choose(**said):
    values = {
        "name": "as agreed",
        "kind": "guarded",
        "multiple": "0,83",
        "paper": "order 4711, clause 3",
        "by": given_person(),
        "at": MOMENT,
    }
    return choose_rule(**(values | said))


def test_a_rule_is_kept_with_its_multiple_and_its_moment():
    customer = given_customer()
    rule = choose(agreed_with=customer)
    assert (rule.code, rule.multiple, rule.chosen_at) == ("DR-00001", "0.83", MOMENT)
    entry = JournalEntry.objects.order_by("number").last()
    assert (entry.act, entry.subject) == ("choose_decision_rule", rule.code)
    assert customer.code in entry.canonical
    assert customer.name not in entry.canonical


def test_simple_acceptance_has_no_multiple():
    assert choose(kind="simple", multiple="").multiple == ""


@pytest.mark.parametrize(
    ("said", "refusal", "field"),
    [
        pytest.param({"multiple": "0"}, NoMultiple, "multiple", id="no band"),
        pytest.param({"multiple": "-1"}, NoMultiple, "multiple", id="laxer than nothing"),
        pytest.param({"kind": "simple"}, CannotChooseRule, "multiple", id="simple with a band"),
        pytest.param(
            {"kind": "lenient", "multiple": ""}, CannotChooseRule, "kind", id="no such kind"
        ),
        pytest.param({"name": " "}, CannotChooseRule, "name", id="no name"),
        pytest.param({"paper": " "}, CannotChooseRule, "paper", id="no paper"),
    ],
)
def test_what_is_no_rule(said, refusal, field):
    with pytest.raises(refusal) as refused:
        choose(**said)
    assert refused.value.field == field
    assert not DecisionRule.objects.exists()


def test_a_rule_is_agreed_with_customers_alone():
    with pytest.raises(CannotChooseRule, match="customer"):
        choose(agreed_with=given_mill())


def test_a_name_is_given_once():
    given_rule(name="as agreed")
    with pytest.raises(CannotChooseRule, match="entered already"):
        choose()


@pytest.mark.parametrize("role", [role for role in Role if role != Role.QA_OFFICER])
def test_only_the_quality_officer_chooses(role):
    with pytest.raises(NotAllowed):
        choose(by=given_person(role))
