"""Decision rules over the API: chosen, listed, named with a test, asked about."""

import pytest

from tests.api import get, post
from tests.certs.claims import given_basis
from tests.certs.deciding import given_rule, given_sure_machine
from tests.factories import MOMENT, given_reel, given_sample

pytestmark = pytest.mark.usefixtures("tables")

BODY = {"name": "w = U", "kind": "guarded", "multiple": "1", "paper": "order 4711"}


def test_a_rule_is_chosen_and_found_by_its_code(qa):
    made = post(qa, "decision-rules/", BODY)
    assert "a guard band of its expanded uncertainty" in made["words"]
    assert get(qa, f"decision-rules/{made['code']}/") == made
    assert get(qa, "decision-rules/")["results"] == [made]


def test_a_multiple_that_cannot_be_is_refused_at_its_field(qa):
    answer = qa.post("/api/decision-rules/", BODY | {"multiple": "0"}, format="json")
    assert answer.status_code == 400
    assert "multiple" in answer.content.decode()


def test_a_test_names_its_rule_and_answers_with_the_decision(qa):
    reel = given_reel()
    given_basis(reel)
    rule = given_rule()
    test = post(
        qa,
        "breaking-tests/",
        {
            "sample": given_sample(reel=reel).code,
            "machine": given_sure_machine().code,
            "tested_at": MOMENT.isoformat(),
            "peak_n": 110_000,
            "decision_rule": rule.code,
        },
    )
    assert test["decision_rule"] == rule.code
    assert test["decision"]["outcome"] == "accept"
    assert test["uncertainty"]["is_complete"] is True


def test_a_calibration_states_its_uncertainty(qa):
    machine = given_sure_machine()
    (row,) = get(qa, f"machines/{machine.code}/calibrations/")["results"]
    stated = (row["uncertainty_pct"], row["coverage_factor"], row["repeatability_pct"])
    assert stated == ("0.24", "2", "0.3")


def test_what_if_answers_with_texts_not_floats(qa):
    found = get(
        qa,
        "decision-rules/what-if/",
        machine=given_sure_machine().code,
        measured_n=100_000,
        required_n=99_000,
        decision_rule=given_rule().code,
        mean_n=103_000,
        sd_n=2_000,
    )
    assert found["decision"]["outcome"] == "conditional_accept"
    # JCGM 106:2012, 8.3.3: 99000 / (1 - 2.3263 * 0.006158).
    assert float(found["sure_forces"][1]["force_n"]) == pytest.approx(100_439, abs=8)
    assert found["capability"] == {"cp": None, "cpk": "0.6666667"}
    # Two deviations above the minimum (tables of the normal distribution).
    assert float(found["risk"]["conforming"]) == pytest.approx(0.97725, abs=1e-5)


def test_mean_and_deviation_come_together(qa):
    machine = given_sure_machine().code
    query = {"machine": machine, "measured_n": 1, "required_n": 1, "mean_n": 1}
    assert qa.get("/api/decision-rules/what-if/", query).status_code == 400
