"""What a machine must show, and what stayed of a load, over the API. Forces worked by hand."""

import pytest

from tests.api import client_for, get, post
from tests.certs.api.test_tests import proof_body
from tests.factories import given_machine

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def reader(auditor):
    return client_for(auditor)


def asked(client, **query):
    body = {"machine": given_machine().code, "required_n": 40_000} | query
    return client.get("/api/proof-tests/force-to-show/", body)


def test_the_bounds_come_with_their_derivation(reader):
    # Class 1, q = 1 % (ISO 7500-1, read): 40 000 x 1.01 and 50 000 x 0.99.
    answer = asked(reader, ceiling_n=50_000).json()
    assert (answer["least"]["stated"], answer["most"]["stated"]) == ("40400", "49500")
    assert answer["least"]["formula"] == "F = P (1 + q / 100)"
    assert answer["is_possible"] is True
    assert (answer["machine_class"], answer["serving_class"]) == ("1", "0.5")


def test_without_an_upper_limit_there_is_no_upper_bound(reader):
    answer = asked(reader).json()
    assert (answer["most"], answer["is_possible"]) == (None, True)


@pytest.mark.parametrize(
    ("ceiling_n", "serving"),
    [
        # Class 0.5 needs 40 200 N and allows 40 297 N of 40 500 N; class 1 allows 40 095 N.
        pytest.param(40_500, "0.5", id="a better class"),
        pytest.param(40_000, None, id="no class"),
    ],
)
def test_a_conflict_shows_both_bounds_and_what_would_serve(reader, ceiling_n, serving):
    answer = asked(reader, ceiling_n=ceiling_n).json()
    assert (answer["is_possible"], answer["serving_class"]) == (False, serving)
    assert answer["least"]["stated"] == "40400"
    assert answer["most"]["stated"] == str(ceiling_n * 99 // 100)
    assert "proves both bounds" in answer["told"]


def test_a_machine_without_a_calibration_is_told_of(reader):
    machine = given_machine(is_calibrated=False)
    answer = asked(reader, machine=machine.code).json()
    # The greatest error of the table, 3 % (from memory).
    assert (answer["calibration"], answer["least"]["stated"]) == (None, "41200")
    assert "No calibration" in answer["problems"][0]


@pytest.mark.parametrize(
    "query", [{"machine": "X-9"}, {"required_n": "much"}, {"assembly": "A-99999"}]
)
def test_a_question_that_cannot_be_read_is_refused(reader, query):
    assert asked(reader, **query).status_code == 400


def test_a_test_tells_what_its_machine_had_to_show(bench):
    code = post(bench, "proof-tests/", proof_body(), format="multipart")["code"]
    answer = get(bench, f"proof-tests/{code}/bounds/")
    assert (answer["least"]["stated"], answer["most"]) == ("40400", None)


def test_what_stayed_of_the_load_comes_with_its_derivation(bench):
    body = proof_body(
        gauge_before_um=1_000_000, gauge_after_um=1_006_000, extension_limit_pct="0.5"
    )
    made = post(bench, "proof-tests/", body, format="multipart")
    # 6 mm of 1000 mm.
    assert made["extension"]["derived"]["stated"] == "0.60"
    assert (made["extension"]["outcome"], made["outcome"]) == ("beyond", "fails")
    assert get(bench, f"proof-tests/{made['code']}/") == made


def test_what_was_not_measured_is_none(bench):
    made = post(bench, "proof-tests/", proof_body(), format="multipart")
    assert (made["extension"], made["gauge_before_um"]) == (None, None)


def test_half_a_measurement_is_refused(bench):
    answer = bench.post(
        "/api/proof-tests/", proof_body(gauge_before_um=1_000_000), format="multipart"
    )
    assert (answer.status_code, answer.json()["field"]) == (400, "gauge_after_um")
