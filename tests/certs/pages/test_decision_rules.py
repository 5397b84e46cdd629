"""Pages of decision rules: choosing one, asking what if, and the decision on a test's page."""

import pytest
from django.urls import reverse

from certs.models import DecisionRule
from certs.services.record_tests import record_breaking_test
from inventory.models import Calibration
from tests.certs.claims import given_basis, given_factor
from tests.certs.deciding import given_rule, given_sure_machine
from tests.factories import (
    MOMENT,
    given_customer,
    given_machine,
    given_person,
    given_reel,
    given_sample,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

CHOSEN = {
    "name": "guard band of 0.83 U",
    "kind": "guarded",
    "multiple": "0.83",
    "agreed_with": "",
    "paper": "order 4711, clause 3",
}


def given_break(*, peak_n, rule, machine=None):
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


def test_a_rule_is_chosen_and_listed(as_quality):
    answer = as_quality.post(reverse("certs:choose_rule"), CHOSEN, follow=True)
    assert DecisionRule.objects.get().multiple == "0.83"
    assert "0.83 times its expanded uncertainty" in answer.text
    assert "rule of the house" in answer.text


def test_a_rule_agreed_with_a_customer_names_him(as_auditor):
    rule = given_rule(agreed_with=given_customer("Invented Riggers"))
    page = as_auditor.get(reverse("certs:decision_rules")).text
    assert "Invented Riggers" in page
    assert f"{reverse('certs:what_if')}?decision_rule={rule.code}" in page


def test_a_multiple_that_cannot_be_is_told_at_its_field(as_quality):
    answer = as_quality.post(reverse("certs:choose_rule"), CHOSEN | {"multiple": "nine"})
    assert "above 0 and not above 3" in answer.text
    assert not DecisionRule.objects.exists()


def test_the_form_of_a_test_offers_the_rules(as_bench):
    rule = given_rule()
    for name in ("record_breaking", "record_proof"):
        page = as_bench.get(reverse(f"certs:{name}")).text
        assert str(rule) in page
        assert "the standard’s own" in page


def test_what_if_tells_budget_decision_and_what_would_be_sure(as_auditor):
    machine, rule = given_sure_machine(), given_rule()
    asked = {
        "machine": machine.code, "measured_n": "100", "required_n": "99", "upper_n": "",
        "decision_rule": rule.code, "mean_n": "103", "sd_n": "2",
    }  # fmt: skip
    page = as_auditor.get(reverse("certs:what_if"), asked).text
    for words in (
        "conditional pass", "99 % sure", "Accepted wrongly", "Cpk", "error of indication",
        "U = k uc",
    ):  # fmt: skip
        assert words in page


def test_what_if_says_what_a_calibration_leaves_open(as_auditor):
    asked = {"machine": given_machine().code, "measured_n": "100", "required_n": "99"}
    page = as_auditor.get(reverse("certs:what_if"), asked).text
    assert "No value held for the uncertainty of the calibration" in page
    assert "more than" in page


def test_what_if_answers_for_a_force_far_too_small_for_the_machine(as_auditor):
    asked = {"machine": given_sure_machine().code, "measured_n": "2 N", "required_n": "99"}
    page = as_auditor.get(reverse("certs:what_if"), asked).text
    assert "no measured force would be sure enough" in page
    assert "outside the verified range" in page
    assert "Least force to measure" not in page


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        pytest.param({"mean_n": "103"}, "belong together", id="mean alone"),
        pytest.param({"sd_n": "3"}, "belong together", id="deviation alone"),
        pytest.param({"upper_n": "98"}, "above the upper", id="limits out of order"),
        pytest.param({"measured_n": "0"}, "above nought", id="nothing measured"),
    ],
)
def test_what_cannot_be_asked_is_told(as_auditor, changes, words):
    asked = {"machine": given_sure_machine().code, "measured_n": "100", "required_n": "99"}
    assert words in as_auditor.get(reverse("certs:what_if"), asked | changes).text


def test_the_page_of_a_test_shows_decision_and_budget(as_auditor):
    test = given_break(peak_n=84_700, rule=given_rule())
    page = as_auditor.get(reverse("certs:breaking_test", args=[test.code])).text
    for words in (
        "Decision and uncertainty", "conditional pass", "This test supports no certificate",
        "repeatability: 0.3 % between three series", "Guard band w",
    ):  # fmt: skip
        assert words in page


def test_the_page_of_a_reel_says_why_a_test_is_no_evidence(as_auditor):
    test = given_break(peak_n=84_700, rule=given_rule())
    page = as_auditor.get(reverse("certs:reel_strength", args=[test.sample.reel.code])).text
    assert "gives “conditional pass”" in page


def test_a_calibration_keeps_what_its_certificate_states(as_quality):
    machine = given_machine(is_calibrated=False)
    asked = {
        "certificate_number": "K-2", "laboratory": "Invented Laboratory",
        "calibrated_date": "2026-01-10", "due_date": "2027-01-09", "machine_class": "1",
        "range_from_n": "5", "range_to_n": "500", "uncertainty_pct": "0,24",
        "coverage_factor": "2", "repeatability_pct": "0.3",
    }  # fmt: skip
    page = as_quality.post(
        reverse("inventory:record_calibration", args=[machine.code]), asked, follow=True
    ).text
    assert Calibration.objects.get().uncertainty_pct == "0.24"
    assert "U = 0.24 %, k = 2" in page
    assert f"{reverse('certs:what_if')}?machine={machine.code}" in page
