"""Rope over the API: cut, rewound, taken back; what is left of it and where it went."""

import pytest

from inventory.models import CutPiece
from tests.api import get, post
from tests.factories import (
    ROPE,
    given_delivery,
    given_hold,
    given_order_line,
    given_piece,
    given_reel,
)


@pytest.fixture
def reel(db):
    return given_reel(length_m=100)


def cut(client, reel, **facts):
    body = {"length_mm": 10_000, "purpose": "supply"} | facts
    return client.post(f"/api/reels/{reel.code}/cut/", body, format="json")


def test_a_piece_is_cut_from_the_free_end(stores, reel):
    made = cut(stores, reel).json()
    assert (made["from_mm"], made["to_mm"], made["length_mm"]) == (0, 10_000, 10_000)
    assert made["reel"] == reel.code


def test_metres_that_are_gone_are_not_cut_again(stores, reel):
    cut(stores, reel)
    answer = cut(stores, reel, from_mm=9_999)
    assert answer.status_code in {400, 409}
    assert CutPiece.objects.count() == 1


def test_rope_under_hold_is_not_cut(stores, reel):
    given_hold(reel)
    answer = cut(stores, reel)
    assert answer.status_code in {400, 409}
    assert "X-00001" in answer.json()["problem"]


def test_a_piece_for_an_order_takes_its_length_from_the_line(stores, reel):
    line = given_order_line(length_m=20)
    made = cut(stores, reel, length_mm=20_000, order_line=f"{line.order.code}/1").json()
    assert made["ordered_length_mm"] == 20_000
    assert made["order_line"] == f"{line.order.code}/1"


@pytest.mark.parametrize("line", ["O-00001/2", "O-00001", "1", 1, "O-00001/0"])
def test_an_order_line_that_is_not_there_is_a_fault_of_that_input(stores, reel, line):
    given_order_line(length_m=20)
    answer = cut(stores, reel, order_line=line)
    assert (answer.status_code, list(answer.json())) == (400, ["order_line"])


def test_rewinding_has_its_own_address(stores, reel):
    assert cut(stores, reel, purpose="rewind").status_code == 400


def test_a_rewound_stretch_is_a_reel_of_its_own(stores, reel):
    made = post(stores, f"reels/{reel.code}/rewind/", {"from_mm": 0, "to_mm": 40_000})
    assert (made["origin"], made["length_mm"], made["is_turned"]) == ("rewind", 40_000, True)


def test_a_wrong_cut_is_taken_back_with_its_reason(qa, reel):
    piece = given_piece(reel=reel)
    made = post(qa, f"pieces/{piece.code}/reverse/", {"reason": "wrong reel"})
    assert (made["piece"], made["reason"]) == (piece.code, "wrong reel")
    assert get(qa, f"pieces/{piece.code}/")["is_reversed"] is True


def test_a_delivered_piece_comes_back_as_a_reel(stores, reel):
    piece = given_piece(reel=reel)
    given_delivery(piece)
    made = post(stores, f"pieces/{piece.code}/take-back/", {"is_turned": False, "to_mm": 4_000})
    assert (made["origin"], made["length_mm"]) == ("return", 4_000)
    assert get(stores, f"pieces/{piece.code}/")["wound_reel"] == made["code"]


def test_what_is_left_adds_up(stores, reel):
    given_piece(reel=reel, from_m=10)
    given_hold(reel, from_mm=50_000, to_mm=60_000)
    left = get(stores, f"reels/{reel.code}/free/")
    assert left["free"] == [{"from_mm": 0, "to_mm": 10_000}, {"from_mm": 20_000, "to_mm": 100_000}]
    assert {"from_mm": 60_000, "to_mm": 100_000} in left["clear"]
    assert left["balance"]["supply_mm"] + left["balance"]["remaining_mm"] == 100_000


def test_the_map_tells_where_every_metre_went(stores, reel):
    piece = given_piece(reel=reel, from_m=10)
    stretches = get(stores, f"reels/{reel.code}/map/")["stretches"]
    assert [s["kind"] for s in stretches] == ["free", "supply", "free"]
    assert [s["piece"] for s in stretches] == ["", piece.code, ""]
    assert sum(s["to_mm"] - s["from_mm"] for s in stretches) == 100_000


def test_a_point_of_a_piece_is_found_on_the_mills_reel(stores, reel):
    made = post(stores, f"reels/{reel.code}/rewind/", {"from_mm": 0, "to_mm": 40_000})
    piece = cut(stores, reel=type(reel)(code=made["code"]), from_mm=1_000).json()
    points = get(stores, f"pieces/{piece['code']}/point/", mm_from_near_end=500)
    # Wound once, metre x of the new reel is metre 40 000 - x of the old one.
    assert points == [
        {"reel": made["code"], "metre_mm": 1_500},
        {"reel": reel.code, "metre_mm": 38_500},
    ]


def test_a_trace_tells_heats_and_where_the_rope_went(stores, reel):
    piece = given_piece(reel=reel)
    given_delivery(piece)
    trace = get(stores, f"pieces/{piece.code}/trace/")
    assert [h["heat"] for h in trace["back"]["heats"]] == ["H-00001"]
    assert [p["code"] for p in trace["forward"]["pieces"]] == [piece.code]
    assert [c["code"] for c in trace["forward"]["customers"]] == ["C-00001"]


def test_a_stretch_reaches_the_pieces_cut_from_it_and_no_others(stores, reel):
    first, second = given_piece(reel=reel), given_piece(reel=reel)
    found = get(stores, f"reels/{reel.code}/forward/", from_mm=10_000, to_mm=11_000)
    assert [p["code"] for p in found["pieces"]] == [second.code]
    assert first.code not in str(found)
    back = get(stores, f"reels/{reel.code}/back/", from_mm=0, to_mm=1)
    assert back["heats"][0]["to_mm"] == 1


def test_neighbours_of_a_point_come_nearest_first(stores, reel):
    pieces = [given_piece(reel=reel).code for _ in range(3)]
    found = get(stores, f"reels/{reel.code}/neighbours/", metre_mm=25_000, span_mm=20_000)
    assert [n["piece"]["code"] for n in found] == pieces[::-1]
    assert [n["distance_mm"] for n in found] == [0, 5_000, 15_000]


def test_an_offer_names_the_reel_that_fits_tightest(stores, reel):
    tight = given_reel(length_m=60)
    offer = get(stores, "stock/offer/", designation=ROPE, length_mm=55_000)
    assert [r["reel"] for r in offer["reels"]] == [tight.code, reel.code]
    assert offer["longest"]["reel"] == reel.code


def test_an_offer_of_what_nobody_has_names_the_longest(stores, reel):
    offer = get(stores, "stock/offer/", designation=ROPE, length_mm=500_000)
    assert (offer["reels"], offer["longest"]["longest_clear_mm"]) == ([], 100_000)


def test_the_pieces_of_a_reel_are_listed(stores, reel):
    piece = given_piece(reel=reel)
    given_piece()
    found = get(stores, "pieces/", reel=reel.code)
    assert [row["code"] for row in found["results"]] == [piece.code]


@pytest.mark.parametrize("code", ["R-99999", "R-1", "anything", "%00", "R-00001x"])
def test_a_reel_that_is_not_there_is_not_found(stores, reel, code):
    assert stores.get(f"/api/reels/{code}/").status_code == 404
