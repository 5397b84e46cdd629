"""Tests of wires over the API."""

import pytest

from certs.models import WireTest
from tests.api import get, post
from tests.certs.claims import given_basis
from tests.certs.wires import given_wire_machine, given_wire_test, wires_of_7x7
from tests.factories import MOMENT, given_reel, given_sample


@pytest.fixture
def reel(tables):
    """12 mm 6x7-WSC 1770: 98.9 kN by K = 0.388 (EN 12385-4)."""
    reel = given_reel()
    given_basis(reel)
    return reel


def wires(strength=1900):
    return [
        {
            "layer": one.layer,
            "diameter_nm": one.diameter_nm,
            "force_mn": one.force_mn,
            "represents": one.represents,
        }
        for one in wires_of_7x7(strength)
    ]


def body(rope, **changes):
    plain = {
        "method": "after_unlaying",
        "sample": given_sample(reel=rope).code,
        "machine": given_wire_machine().code,
        "tested_at": MOMENT.isoformat(),
        "wires": wires(),
        "spinning_factors": ["0.93", "0.92", "0.94"],
        "spinning_source": "type test report 12 (invented)",
    }
    return plain | changes


def test_wires_are_taken_and_given_back_with_their_verdict(bench, reel):
    made = post(bench, "wire-tests/", body(reel))
    assert (made["outcome"], made["grade_outcome"]) == ("meets", "supports")
    assert made["calculated_n"] == made["sum_n"] * 92 // 100
    assert [wire["force_mn"] for wire in made["wires"]] == [wire["force_mn"] for wire in wires()]
    assert made["findings"][0]["derived"][0]["inputs"][1]["value"] == "0.92"
    assert get(bench, f"wire-tests/{made['code']}/") == made


def test_a_force_keeps_its_thousandths_of_a_newton(bench, reel):
    read = [{**wire, "force_mn": wire["force_mn"] + 612} for wire in wires()]
    made = post(bench, "wire-tests/", body(reel, wires=read, spinning_factors=["1"]))
    assert [wire["force_mn"] for wire in made["wires"]] == [wire["force_mn"] for wire in read]
    exact_mn = sum(wire["force_mn"] * wire["represents"] for wire in read)
    # 49 times 0.612 N is 29.988 N: the sum is stated half up, the force down to the newton.
    assert (made["sum_n"], made["calculated_n"]) == (exact_mn // 1000 + 1, exact_mn // 1000)


def test_wires_tested_before_laying_come_with_a_paper(bench, reel):
    asked = body(
        reel, method="before_laying", sample=None, machine=None, reel=reel.code, paper="Report 7"
    )
    made = post(bench, "wire-tests/", asked)
    assert (made["reel"], made["sample"], made["machine"]) == (reel.code, None, None)


@pytest.mark.parametrize(
    ("changes", "status", "field"),
    [
        pytest.param({"sample": None}, 400, "sample", id="nothing unlaid"),
        pytest.param({"machine": None}, 400, "machine", id="no machine"),
        pytest.param({"spinning_factors": ["0.9", "0.8"]}, 400, "spinning_factors", id="two"),
        pytest.param(
            {"wires": [{"layer": "outer", "diameter_nm": 1_000_000, "force_mn": 2_000}]},
            400,
            "wires",
            id="kN for N",
        ),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(bench, reel, changes, status, field):
    answer = bench.post("/api/wire-tests/", body(reel, **changes), format="json")
    assert (answer.status_code, answer.json()["field"]) == (status, field)
    assert not WireTest.objects.exists()


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"wires": []}, id="no wires"),
        pytest.param({"wires": [{"layer": "outer"}]}, id="half a wire"),
        pytest.param({"method": "by_eye"}, id="a method of no standard"),
        pytest.param({"spinning_factors": ["0.9"] * 4}, id="four factors"),
        pytest.param({"spinning_factors": ["1.2", "x", "0,9"]}, id="no factors"),
    ],
)
def test_what_cannot_be_read_is_refused(bench, reel, changes):
    answer = bench.post("/api/wire-tests/", body(reel, **changes), format="json")
    assert answer.status_code == 400
    assert list(answer.json()) == list(changes)


def test_a_list_is_narrowed_by_reel_and_outcome(bench, reel):
    post(bench, "wire-tests/", body(reel))
    weak = post(bench, "wire-tests/", body(reel, wires=wires(1500)))
    found = get(bench, f"wire-tests/?outcome=falls_short&reel={reel.code}")["results"]
    assert [one["code"] for one in found] == [weak["code"]]
    assert get(bench, "wire-tests/?reel=R-99999")["results"] == []


def test_the_strength_of_a_reel_tells_what_is_asked_next(bench, reel):
    assert get(bench, f"reels/{reel.code}/strength/")["route"]["standing"] == "nothing"
    code = post(bench, "wire-tests/", body(reel, wires=wires(1500)))["code"]
    route = get(bench, f"reels/{reel.code}/strength/")["route"]
    assert (route["standing"], route["blocks"]) == ("break_a_sample", True)
    assert code in route["next_step"]


def test_a_wrong_entry_is_reversed_once_and_stays_readable(qa, bench, reel):
    code = post(bench, "wire-tests/", body(reel))["code"]
    reason = {"reason": "wires of another sample"}
    answer = post(qa, f"wire-tests/{code}/reverse/", reason)
    assert answer["reversal_reason"] == "wires of another sample"
    assert get(bench, f"wire-tests/{code}/") == answer
    again = qa.post(f"/api/wire-tests/{code}/reverse/", reason, format="json")
    assert (again.status_code, again.json()["problem"]) == (409, f"{code} is reversed already.")


@pytest.mark.parametrize("count", [1, 3])
def test_a_list_costs_the_same_whatever_its_length(
    bench, reel, count, django_assert_max_num_queries
):
    for _ in range(count):
        given_wire_test(reel=reel)
    with django_assert_max_num_queries(6):
        assert len(get(bench, "wire-tests/")["results"]) == count
