"""Readings of a reel and weights of orders over the API."""

import pytest

from certs.models import ReelReading
from tests.api import get, post
from tests.certs.claims import given_basis, given_factor
from tests.factories import given_order, given_piece, given_reel

MASS = {"kind": "mass", "gross_g": 537_000, "tare_g": 40_000}
DRUM = {"kind": "drum", "barrel_mm": 300, "traverse_mm": 400, "wound_mm": 600}


@pytest.fixture
def reel(tables):
    reel = given_reel(designation="12 6x7-FC 1770 B sZ")
    given_basis(reel, given_factor("6x7", "FC"))
    return reel


def test_a_weighing_is_answered_with_its_length(bench, reel):
    made = post(bench, f"reels/{reel.code}/readings/", MASS)
    # 49.7 kg per 100 m (API Spec 9A, Table C.1): 497 kg are 1000 m.
    assert made["estimates"][0]["high"]["stated"] == "1000"
    assert made["agreements"][0]["is_consistent"] is True
    assert made["ledger_mm"] == 1_000_000


def test_readings_are_listed_and_compared(qa, reel):
    path = f"reels/{reel.code}/readings/"
    post(qa, path, MASS)
    post(qa, path, DRUM)
    found = get(qa, path)
    assert [one["kind"] for one in found["readings"]] == ["drum", "mass"]
    assert len(found["between"]) == 1


def test_half_a_reading_is_refused(qa, reel):
    answer = qa.post(f"/api/reels/{reel.code}/readings/", {"kind": "mass", "gross_g": 1})
    assert answer.status_code in {400, 409}
    assert "mass of the empty reel" in answer.json()["problem"]
    assert not ReelReading.objects.exists()


def test_an_order_is_weighed(qa, tables):
    order = given_order()
    found = get(qa, f"orders/{order.code}/weight/")
    assert found["total"]["unit"] == "kg"
    assert found["gaps"] == []


def test_a_piece_is_weighed(qa, reel):
    piece = given_piece(reel=reel, length_m=10)
    found = get(qa, f"pieces/{piece.code}/weight/")
    assert [one["stated"] for one in found["weights"]] == ["4.97"]


def test_a_piece_of_no_basis_is_a_gap(qa, tables):
    found = get(qa, f"pieces/{given_piece().code}/weight/")
    assert (found["weights"], len(found["gaps"])) == ([], 1)
