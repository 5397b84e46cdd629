"""The words of a decision: the same on page and paper, and never more than is known."""

from decimal import Decimal

import pytest

from certs.documents.decision_told import PROVISIONAL, tell_decision, tell_share
from certs.rules.conformity import decide
from certs.rules.decision_rule import INHERENT, Rule
from certs.rules.force_budget import MachineKnowledge, force_budget
from certs.rules.machine import MachineClass

ROW = MachineClass("1", Decimal(1), "ISO 7500-1:2015", "read", Decimal(1), Decimal("0.5"))
SURE = MachineKnowledge("K-1", Decimal("0.24"), Decimal(2), Decimal("0.3"), 10)
GUARDED = Rule("guard band of U", Decimal(1), "order 4711", "DR-00001")


def told(*, rule=GUARDED, known=SURE, measured_n=100_000, required_n=99_000, upper_n=None):
    budget = force_budget(measured_n, row=ROW, known=known)
    decision = decide(
        measured_n=measured_n,
        u_n=budget.combined if budget.is_complete else None,
        expanded_n=budget.expanded if budget.is_complete else None,
        rule=rule,
        lower_n=required_n,
        upper_n=upper_n,
    )
    return tell_decision(decision=decision.as_json(), uncertainty=budget.as_json())


def fact(told, word):
    return next(fact for fact in told.facts if fact.word == word)


def test_a_decision_under_a_named_rule():
    shown = told()
    assert (shown.outcome, shown.shape, shown.has_named_rule) == ("conditional pass", "wait", True)
    assert fact(shown, "Decision rule").text == "DR-00001 guard band of U"
    assert fact(shown, "Decision rule").note == "order 4711"
    assert fact(shown, "Measured").text == "100 kN"
    assert fact(shown, "Required at least").note.startswith("accepted from 100.2")
    # By hand: z = 1000 / 615.8, Phi = 0.948.
    assert fact(shown, "Probability that it conforms").text.startswith("94.7")
    # With w = U = k u the risk at the limit is Phi(-k), below 2.5 % (ILAC-G8:09/2019, Table 1).
    assert fact(shown, "Greatest risk of accepting wrongly").text.startswith("2.")


def test_every_component_is_told_with_its_source():
    shown = told()
    assert [part.contribution for part in shown.components] == ["577 N", "120 N", "177 N", "2.89 N"]
    assert shown.components[2].degrees_of_freedom == "2"
    assert shown.components[0].degrees_of_freedom == "not limited"
    assert "ISO 7500-1:2015" in shown.components[0].source


def test_degrees_of_freedom_beyond_count_are_told_as_many():
    # 2 N beside a step of 10 N: the three series hardly count, and nu = 2 (u / u3)^4 is vast.
    assert fact(told(measured_n=2), "Combined standard uncertainty").note == (
        "effective degrees of freedom: more than 1000"
    )


def test_the_standards_own_rule_is_named_by_its_words():
    shown = told(rule=INHERENT)
    assert not shown.has_named_rule
    assert fact(shown, "Decision rule").text == "measured at least the force required"
    assert "Guard band w" not in {fact.word for fact in shown.facts}
    assert shown.shape == "good"


def test_a_failure_is_a_stop():
    assert told(measured_n=90_000).shape == "stop"


def test_a_maximum_is_told_beside_a_minimum():
    shown = told(upper_n=110_000)
    assert fact(shown, "Allowed at most").note.startswith("accepted to 108.7")


def test_what_is_not_known_in_full_is_said_to_be_more():
    shown = told(known=MachineKnowledge("K-1"))
    assert fact(shown, "Expanded uncertainty U").text.startswith("more than ")
    assert fact(shown, "Probability that it conforms").text == "not known"
    assert fact(shown, "Required at least").note == "the acceptance limit cannot be said"
    assert any("No value held" in note for note in shown.notes)


def test_memory_is_told():
    row = MachineClass("2", Decimal(2), "ISO 7500-1:2015", "memory", Decimal(2), Decimal(1))
    budget = force_budget(100_000, row=row, known=SURE).as_json()
    decision = {**decide(
        measured_n=1, u_n=None, expanded_n=None, rule=INHERENT, lower_n=1
    ).as_json(), "is_provisional": True}  # fmt: skip
    assert PROVISIONAL in tell_decision(decision=decision, uncertainty=budget).notes


def test_without_a_budget_that_is_said():
    decision = decide(measured_n=2, u_n=None, expanded_n=None, rule=INHERENT, lower_n=1)
    shown = tell_decision(decision=decision.as_json(), uncertainty={})
    assert fact(shown, "Uncertainty").text == "not known"
    assert shown.components == ()


def test_bands_that_meet_have_no_greatest_risk():
    words = {fact.word for fact in told(required_n=99_900, upper_n=100_100).facts}
    assert "Greatest risk of accepting wrongly" not in words


def test_a_test_of_which_nothing_was_kept_is_told_nothing_of():
    assert tell_decision(decision={}, uncertainty={}) is None


@pytest.mark.parametrize(
    ("share", "text"),
    [
        ("0.9772499", "97.72 %"),
        ("0.5", "50 %"),
        ("0", "less than 0.01 %"),
        ("9.9E-10", "less than 0.01 %"),
        ("1", "more than 99.99 %"),
        ("0.99995", "more than 99.99 %"),
    ],
)
def test_shares_claim_no_more_than_a_budget_holds(share, text):
    assert tell_share(share) == text
