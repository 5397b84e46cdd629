"""Loading, retests and papers that state too much, over the API."""

from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from tests.api import get, post
from tests.certs.claims import LOGS, given_basis, given_breaking_test, given_factor
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.factories import MOMENT, given_machine, given_piece, given_reel, given_sample

pytestmark = pytest.mark.usefixtures("tables")

LATER = (MOMENT + timedelta(hours=1)).isoformat()


@pytest.fixture
def reel():
    return given_documented_reel()


def body(sample, **said):
    values = {
        "sample": sample.code,
        "machine": given_machine().code,
        "tested_at": LATER,
        "peak_n": 99_000,
    }
    return values | said


def test_the_loading_of_a_logged_test(bench):
    # 12 6x7-FC 1770, 84.6 kN: API Spec 9A, 26th ed 2011, Table C.1. make_logs.py loads at 300 N/s
    # above 80 %: 0.355 % of it per second.
    reel = given_reel(designation="12 6x7-FC 1770 B sZ")
    given_basis(reel, given_factor("6x7", "FC"))
    log = SimpleUploadedFile("break.csv", (LOGS / "break_12mm.csv").read_bytes(), "text/csv")
    asked = body(given_sample(reel=reel), log=log)
    del asked["peak_n"]
    made = post(bench, "breaking-tests/", asked, format="multipart")
    told = get(bench, f"breaking-tests/{made['code']}/loading/")
    assert told["mark_n"] == 67_680
    assert float(told["mean"]["stated"]) == pytest.approx(100 * 300 / 84_600, rel=0.02)
    assert told["finding"] == "kept"
    assert told["deviations"] == []


def test_without_a_log_there_is_no_loading(bench, reel):
    made = post(bench, "breaking-tests/", body(given_sample(reel=reel)))
    assert bench.get(f"/api/breaking-tests/{made['code']}/loading/").status_code == 404


def test_a_retest_is_recorded_and_both_name_each_other(bench, reel):
    first = given_breaking_test(sample=given_sample(reel=reel), peak_n=90_000, break_distance_mm=10)
    made = post(bench, "breaking-tests/", body(given_sample(reel=reel), retest_of=first.code))
    assert made["retest_of"] == first.code
    assert get(bench, f"breaking-tests/{first.code}/")["repeated_by"] == made["code"]


def test_what_is_no_retest_is_refused_at_its_field(bench, reel):
    first = given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000)
    asked = body(given_sample(reel=reel), retest_of=first.code)
    answer = bench.post("/api/breaking-tests/", asked, format="json")
    assert (answer.status_code, answer.json()["field"]) == (400, "retest_of")


def test_the_free_length_asked_for_and_an_unknown_place_are_given_back(bench, reel):
    said = {
        "free_length_asked_mm": 900,
        "free_length_source": "order 7",
        "is_break_place_known": False,
    }
    made = post(bench, "breaking-tests/", body(given_sample(reel=reel), **said))
    assert {name: made[name] for name in said} == said
    assert made["outcome"] == "meets"


def test_a_distance_contradicts_an_unknown_place(bench, reel):
    said = {"break_distance_mm": 40, "is_break_place_known": False}
    answer = bench.post(
        "/api/breaking-tests/", body(given_sample(reel=reel), **said), format="json"
    )
    assert (answer.status_code, answer.json()["field"]) == (400, "break_distance_mm")


def test_a_free_length_is_asked_for_with_its_source(bench, reel):
    asked = body(given_sample(reel=reel), free_length_asked_mm=900)
    answer = bench.post("/api/breaking-tests/", asked, format="json")
    assert (answer.status_code, answer.json()["field"]) == (400, "free_length_source")


def test_the_papers_that_state_too_much(bench, reel):
    paper = issued(given_cut_length_draft(given_piece(reel=reel)))
    other = given_reel()
    given_basis(other)
    test = given_breaking_test(sample=given_sample(reel=reel), peak_n=90_000)
    for query in ("", f"?breaking_test={test.code}", f"?reel={reel.code}"):
        (told,) = get(bench, f"affected-papers/{query}")
        assert (told["number"], told["tests"]) == (paper.number, [test.code])
        (value,) = told["overstated"]
        assert (value["stated"], value["supported"]) == ("98.9 kN", "90 kN")
    assert get(bench, f"affected-papers/?reel={other.code}") == []


def test_a_test_and_a_reel_are_not_asked_together(bench, reel):
    test = given_breaking_test(sample=given_sample(reel=reel), peak_n=90_000)
    answer = bench.get(f"/api/affected-papers/?breaking_test={test.code}&reel={reel.code}")
    assert (answer.status_code, answer.json()["field"]) == (400, "reel")
