"""Makers' records over the API."""

import pytest

from tests.api import get
from tests.certs.claims import given_basis, given_breaking_test
from tests.factories import ROPE, given_reel, given_sample


@pytest.fixture
def reel(tables):
    reel = given_reel()
    given_basis(reel)
    return reel


def broken(reel, *peaks_n):
    for peak_n in peaks_n:
        given_breaking_test(sample=given_sample(reel=reel), peak_n=peak_n)


def record(client, reel, **asked):
    return get(
        client, "maker-records/record/", mill=reel.mill.code, designation=reel.designation, **asked
    )


def test_the_list_names_mill_and_rope(qa, reel):
    broken(reel, 101_000, 102_000)
    (row,) = get(qa, "maker-records/")["results"]
    assert (row["mill"], row["designation"], row["tests"]) == (reel.mill.code, ROPE, 2)
    assert row["is_enough"] is False


def test_too_few_results_are_a_gap(qa, reel):
    broken(reel, 101_000)
    found = record(qa, reel)
    assert found["figures"] is None
    assert "Not enough data" in found["gaps"][0]["reason"]
    assert found["results"][0]["ratio"] == "1.0212"


def test_enough_results_give_figures_with_their_steps(qa, reel):
    broken(reel, 101_000, 103_000, 104_000, 102_000, 105_000, 103_500)
    found = record(qa, reel, coverage="0.90", confidence="0.99", uncertainty_pct="1")
    limit = found["figures"]["tolerance_limit"]
    # NIST e-Handbook 7.2.6.3: k = 4.4111 for six results, 90 % with 99 %.
    assert "4.4111" in {given["value"] for given in limit["inputs"]}
    assert found["risk"]["passed_too_weak"]["stated"]
    assert found["gaps"] == []


def test_a_rope_never_tested_has_no_results_and_a_gap(qa, reel):
    found = record(qa, reel)
    assert found["results"] == []
    assert "0 tests" in found["gaps"][0]["reason"]


def test_a_mill_that_is_not_there_is_refused(qa, reel):
    asked = {"mill": "M-99999", "designation": reel.designation}
    assert qa.get("/api/maker-records/record/", asked).status_code == 400


@pytest.mark.parametrize("wrong", [{"coverage": "0.5"}, {"uncertainty_pct": "-1"}])
def test_what_is_not_offered_is_refused(qa, reel, wrong):
    asked = {"mill": reel.mill.code, "designation": reel.designation, **wrong}
    assert qa.get("/api/maker-records/record/", asked).status_code == 400
