"""Tests decided under a rule: rule before test, evidence only where the rule accepts."""

from datetime import timedelta

import pytest

from certs.models import BreakingTest, ProofTest
from certs.queries import rope_tests
from certs.queries.checklist import checklist
from certs.queries.evidence import supporting_proof_tests
from certs.services.decide import CannotDecide, decide_force
from certs.services.record_tests import record_breaking_test, record_proof_test
from tests.certs.claims import force_log, given_basis, given_factor
from tests.certs.deciding import EARLIER, given_rule, given_sure_machine
from tests.certs.papers import given_assembly_draft, given_certifiable_assembly
from tests.factories import (
    MOMENT,
    given_customer,
    given_machine,
    given_person,
    given_reel,
    given_sample,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


def judged(*, measured_n=100_000, required_n=99_000, rule=None, machine=None, **said):
    machine = machine or given_sure_machine()
    return decide_force(
        measured_n=measured_n,
        required_n=required_n,
        calibration=machine.calibrations.first(),
        decision_rule=rule,
        tested_at=MOMENT,
        **said,
    )


def broken(*, peak_n, rule=None, machine=None):
    """12 mm 6x7-FC 1770: 84.6 kN in API Spec 9A, 26th ed 2011, Table C.1."""
    reel = given_reel(designation="12 6x7-FC 1770 B sZ")
    given_basis(reel, given_factor("6x7", "FC"))
    return record_breaking_test(
        sample=given_sample(reel=reel),
        machine=machine or given_sure_machine(),
        tested_at=MOMENT,
        peak_n=peak_n,
        log=None,
        decision_rule=rule,
        by=given_person(),
        at=MOMENT,
    )


def proved(assembly, *, peak_n, rule=None, machine=None):
    return record_proof_test(
        assembly=assembly,
        machine=machine or given_sure_machine(),
        tested_at=MOMENT,
        required_n=40_000,
        required_hold_s=60,
        rule="2 x the vertical rated load",
        log=force_log(peak_n=peak_n, hold_s=65),
        log_name="bench.csv",
        before_is_good=True,
        before_note="",
        after_is_good=True,
        after_note="",
        decision_rule=rule,
        by=given_person(),
        at=MOMENT,
    )


def test_without_a_rule_the_standards_own_decides():
    uncertainty, kept, decision = judged(measured_n=99_000)
    assert decision.is_accepted
    assert kept["rule"]["code"] == ""
    assert uncertainty["is_complete"] is True
    # By hand for 100 kN: 615.8 N; for 99 kN a hundredth less.
    assert float(uncertainty["combined"]) == pytest.approx(609.7, abs=0.2)


def test_a_guarded_rule_asks_for_more_than_the_standard():
    kept = judged(rule=given_rule()).decision_json
    # w = U = k 615.8 N with k a little above 2: accepted from more than 100 230 N.
    assert kept["outcome"] == "conditional_accept"
    assert 100_230 < kept["accepted_from_n"] < 100_300
    assert kept["rule"]["code"] == "DR-00001"


def test_a_rule_that_a_calibration_leaves_undecided():
    kept = judged(rule=given_rule(), machine=given_machine()).decision_json
    assert kept["outcome"] == "cannot_say"
    assert kept["accepted_from_n"] is None
    assert kept["is_provisional"] is True


def test_without_a_calibration_the_worst_class_counts():
    bare = decide_force(
        measured_n=100_000, required_n=99_000, calibration=None, decision_rule=None,
        tested_at=MOMENT,
    )  # fmt: skip
    # Class 3 allows an error of 3 %: 3000 / sqrt(3).
    assert float(bare.uncertainty["components"][0]["contribution"]) == pytest.approx(1732, abs=0.1)
    assert bare.decision_json["probability"] is None


def test_a_rule_chosen_after_the_test_is_refused():
    late = given_rule(at=MOMENT + timedelta(minutes=1))
    with pytest.raises(CannotDecide, match="before the value is known") as refused:
        judged(rule=late)
    assert refused.value.field == "decision_rule"


def test_a_rule_chosen_in_the_minute_of_the_test_is_early_enough():
    assert judged(rule=given_rule(at=MOMENT)).decision_json["rule"]["code"] == "DR-00001"


def test_a_rule_agreed_with_somebody_else_is_refused():
    ours, other = given_customer("Customer One"), given_customer("Customer Two")
    rule = given_rule(agreed_with=ours)
    assert judged(rule=rule, customer=ours).decision
    assert judged(rule=rule, customer=None).decision
    with pytest.raises(CannotDecide, match="agreed with"):
        judged(rule=rule, customer=other)


def test_a_test_under_a_late_rule_is_not_recorded():
    late = given_rule(at=MOMENT + timedelta(minutes=1))
    with pytest.raises(CannotDecide):
        broken(peak_n=90_000, rule=late)
    with pytest.raises(CannotDecide):
        proved(given_certifiable_assembly(), peak_n=42_000, rule=late)
    assert not BreakingTest.objects.exists()
    assert not ProofTest.objects.exists()


def test_a_break_keeps_budget_rule_and_decision():
    test = BreakingTest.objects.get(pk=broken(peak_n=90_000, rule=given_rule()).pk)
    assert test.decision["outcome"] == "accept"
    assert test.uncertainty["stated"] == "1100"
    assert test.decision_rule.code == "DR-00001"


@pytest.mark.parametrize(
    ("peak_n", "is_evidence"),
    [
        # By hand: 1.05 kN is U at 84.6 kN, so about 85.7 kN is accepted.
        pytest.param(90_000, True, id="above the guard band"),
        pytest.param(84_700, False, id="meets the standard, not the rule"),
    ],
)
def test_a_break_supports_the_force_only_where_its_rule_accepts(peak_n, is_evidence):
    test = broken(peak_n=peak_n, rule=given_rule())
    assert test.outcome == "meets"
    (found,) = rope_tests.tests_on_rope(test.sample.reel)
    assert found.is_evidence is is_evidence
    assert not found.has_failed


def test_the_same_break_without_a_rule_supports_the_force():
    (found,) = rope_tests.tests_on_rope(broken(peak_n=84_700).sample.reel)
    assert found.is_evidence


def test_a_proof_load_whose_rule_cannot_say_supports_nothing_and_the_checklist_says_why():
    assembly = given_certifiable_assembly()
    test = proved(assembly, peak_n=42_000, rule=given_rule(), machine=given_machine())
    assert test.outcome == "passes"
    assert supporting_proof_tests(assembly) == []
    draft = given_assembly_draft(assembly)
    (line,) = [
        item for item in checklist(draft, on=MOMENT.date()) if item.name == "Proof-load test"
    ]
    assert "DR-00001" in line.text
    assert "cannot be said" in line.text


def test_a_proof_load_that_its_rule_accepts_supports_a_certificate():
    assembly = given_certifiable_assembly()
    test = proved(assembly, peak_n=42_000, rule=given_rule(at=EARLIER))
    assert supporting_proof_tests(assembly) == [test]
