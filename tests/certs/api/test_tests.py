"""Breaking-force and proof-load tests over the API."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from certs.models import BreakingTest, ProofTest
from tests.api import get, post
from tests.certs.claims import force_log, given_basis
from tests.factories import MOMENT, given_assembly, given_machine, given_reel, given_sample


@pytest.fixture
def sample(tables):
    reel = given_reel()
    given_basis(reel)
    return given_sample(reel=reel)


def breaking_body(sample, **changes):
    body = {
        "sample": sample.code,
        "machine": given_machine().code,
        "tested_at": MOMENT.isoformat(),
        "peak_n": 110_000,
    }
    return body | changes


def proof_body(**changes):
    log = SimpleUploadedFile("bench.csv", force_log(peak_n=40_800, hold_s=65), "text/csv")
    body = {
        "assembly": given_assembly().code,
        "machine": given_machine().code,
        "tested_at": MOMENT.isoformat(),
        "required_n": 40_000,
        "required_hold_s": 60,
        "rule": "2 x the vertical rated load",
        "log": log,
        "before_is_good": True,
        "after_is_good": True,
    }
    return body | changes


def test_a_force_in_pounds_is_kept_beside_the_newtons(bench, sample):
    # NIST SP 811: 1 lbf = 4.448 221 615 260 5 N, exact.
    asked = breaking_body(sample, peak_n=100_085, as_given={"peak_n": "22500 lbf"})
    assert post(bench, "breaking-tests/", asked)["as_given"] == {"peak_n": "22500 lbf"}


def test_pounds_that_do_not_mean_the_newtons_are_refused(bench, sample):
    asked = breaking_body(sample, peak_n=110_000, as_given={"peak_n": "22500 lbf"})
    answer = bench.post("/api/breaking-tests/", asked, format="json")
    assert answer.status_code == 400
    assert "does not mean" in str(answer.json())


def test_a_break_above_what_is_required_meets_it(bench, sample):
    made = post(bench, "breaking-tests/", breaking_body(sample))
    # K = 0.388 (EN 12385-2): 0.388 × 12² × 1770 = 98 900 N, to three figures.
    assert (made["required_n"], made["peak_n"], made["outcome"]) == (98_900, 110_000, "meets")
    assert get(bench, f"breaking-tests/{made['code']}/") == made


def test_a_log_governs_over_a_typed_force_and_is_handed_out_as_it_came(bench, sample):
    content = force_log(peak_n=105_000, hold_s=1)
    log = SimpleUploadedFile("break.csv", content, "text/csv")
    body = breaking_body(sample, log=log)
    made = post(bench, "breaking-tests/", body, format="multipart")
    assert made["peak_n"] == 105_000
    assert bench.get(f"/api/breaking-tests/{made['code']}/log/").content == content


def test_a_test_without_a_log_has_none(bench, sample):
    made = post(bench, "breaking-tests/", breaking_body(sample))
    assert bench.get(f"/api/breaking-tests/{made['code']}/log/").status_code == 404


def test_a_test_without_force_or_log_is_no_test(bench, sample):
    answer = bench.post("/api/breaking-tests/", breaking_body(sample, peak_n=None), format="json")
    assert (answer.status_code, answer.json()["field"]) == (400, "peak_n")
    assert not BreakingTest.objects.exists()


def test_a_test_in_the_future_is_refused(bench, sample):
    body = breaking_body(sample, tested_at="2999-01-01T00:00:00Z")
    answer = bench.post("/api/breaking-tests/", body, format="json")
    assert (answer.status_code, answer.json()["field"]) == (400, "tested_at")


def test_a_proof_load_is_found_in_its_log(bench, tables):
    made = post(bench, "proof-tests/", proof_body(), format="multipart")
    assert made["outcome"] == "passes"
    assert made["peak_n"] == 40_800
    assert made["plateau_lowest_n"] >= 40_000
    answer = bench.get(f"/api/proof-tests/{made['code']}/log/")
    assert answer.content == force_log(peak_n=40_800, hold_s=65)
    assert answer["Content-Type"] == "text/csv"


def test_a_proof_load_without_a_log_is_refused(bench, tables):
    body = proof_body()
    del body["log"]
    answer = bench.post("/api/proof-tests/", body, format="multipart")
    assert (answer.status_code, list(answer.json())) == (400, ["log"])
    assert not ProofTest.objects.exists()


def test_an_inspection_that_was_not_told_is_not_taken_for_good(bench, tables):
    body = proof_body()
    del body["after_is_good"]
    answer = bench.post("/api/proof-tests/", body, format="multipart")
    assert answer.status_code == 400 or answer.json()["outcome"] == "fails"


def test_a_log_that_cannot_be_read_is_refused_with_the_reason(bench, tables):
    log = SimpleUploadedFile("bench.csv", b"nothing like a log", "text/csv")
    answer = bench.post("/api/proof-tests/", proof_body(log=log), format="multipart")
    assert answer.status_code in {400, 409}
    assert answer.json()["problem"]


@pytest.mark.parametrize("kind", ["breaking-tests", "proof-tests"])
def test_a_wrong_entry_is_reversed_and_stays_readable(qa, bench, sample, kind):
    body = breaking_body(sample) if kind == "breaking-tests" else proof_body()
    made = post(bench, f"{kind}/", body, format="multipart")
    assert (made["reversed_at"], made["reversal_reason"]) == (None, None)
    answer = post(qa, f"{kind}/{made['code']}/reverse/", {"reason": "typed twice"})
    assert answer["reversal_reason"] == "typed twice"
    assert answer["reversed_at"]
    assert get(bench, f"{kind}/{made['code']}/") == answer


def test_an_entry_is_reversed_once(qa, bench, sample):
    code = post(bench, "breaking-tests/", breaking_body(sample))["code"]
    reason = {"reason": "typed twice"}
    post(qa, f"breaking-tests/{code}/reverse/", reason)
    answer = qa.post(f"/api/breaking-tests/{code}/reverse/", reason, format="json")
    assert (answer.status_code, answer.json()["problem"]) == (409, f"{code} is reversed already.")
