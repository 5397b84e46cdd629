"""Planning and booking cuts over the API."""

import pytest

from inventory.models import CutPiece
from inventory.services.orders import LineAsked
from tests.api import get, post
from tests.factories import (
    ROPE,
    given_customer,
    given_hold,
    given_order,
    given_reel,
)

pytestmark = pytest.mark.django_db

M = 1000


def order_of(*lengths_m, **facts):
    return given_order(*(LineAsked(ROPE, m * M, **facts) for m in lengths_m))


def test_a_proposal_tells_cuts_remnants_and_how_good_it_is(qa):
    order, reel = order_of(60, 38), given_reel(length_m=100)
    told = post(qa, f"orders/{order.code}/cutting-proposal/", {"shortest_usable_mm": 5 * M})
    assert told == {
        "cuts": [
            {"line": 1, "reel": reel.code, "from_mm": 0, "to_mm": 60_000},
            {"line": 2, "reel": reel.code, "from_mm": 60_000, "to_mm": 98_000},
        ],
        "remnants": [{"reel": reel.code, "from_mm": 98_000, "to_mm": 100_000, "is_usable": False}],
        "unmet": [],
        "score": {"unmet_mm": 0, "unusable_mm": 2000, "reels": 1},
        "bound": {"unmet_mm": 0, "unusable_mm": 2000, "reels": 1},
        "is_proved_best": True,
        "unusable_left_mm": 2000,
        "offered_last": [
            {
                "reel": reel.code,
                "why": "offered last: no basis of strength is named for it, so no force can be"
                " certified yet",
            }
        ],
    }
    assert not CutPiece.objects.exists()


def test_what_is_unmet_is_told_with_the_reason(qa):
    order = order_of(120)
    given_reel(length_m=100)
    (unmet,) = post(qa, f"orders/{order.code}/cutting-proposal/")["unmet"]
    assert (unmet["line"], unmet["missing_mm"], unmet["pieces"]) == (1, 120_000, 1)
    assert "the longest is 100.000 m" in unmet["reason"]


def test_reels_can_be_left_out(qa):
    order, one = order_of(30), given_reel()
    given_reel()
    told = post(qa, f"orders/{order.code}/cutting-proposal/", {"without": [one.code]})
    assert [cut["reel"] for cut in told["cuts"]] == ["R-00002"]


def test_a_proposal_can_be_booked_as_it_is(qa):
    order = order_of(60, 38)
    given_reel(length_m=100)
    told = post(qa, f"orders/{order.code}/cutting-proposal/")
    cuts = [
        {
            "line": cut["line"],
            "reel": cut["reel"],
            "from_mm": cut["from_mm"],
            "length_mm": cut["to_mm"] - cut["from_mm"],
        }
        for cut in told["cuts"]
    ]
    made = post(qa, f"orders/{order.code}/cutting/", {"cuts": cuts})
    assert [(p["order_line"], p["from_mm"], p["to_mm"]) for p in made] == [
        (f"{order.code}/1", 0, 60_000), (f"{order.code}/2", 60_000, 98_000),
    ]  # fmt: skip


def test_a_cut_without_a_metre_is_put_where_there_is_room(qa):
    order, reel = order_of(30), given_reel()
    cut = {"line": 1, "reel": reel.code, "length_mm": 30 * M}
    (made,) = post(qa, f"orders/{order.code}/cutting/", {"cuts": [cut]})
    assert made["from_mm"] == 0


def test_a_plan_that_does_not_fit_is_refused_whole(qa):
    order, one, two = order_of(30, 30), given_reel(), given_reel()
    given_hold(two)
    cuts = [
        {"line": n, "reel": reel.code, "from_mm": 0, "length_mm": 30 * M}
        for n, reel in ((1, one), (2, two))
    ]
    answer = qa.post(f"/api/orders/{order.code}/cutting/", {"cuts": cuts}, format="json")
    assert answer.status_code == 409
    assert "Cut 2, 30.000 m of reel R-00002 for line 2" in answer.json()["problem"]
    assert not CutPiece.objects.exists()


UNFIT = {
    "no cuts": {"cuts": []},
    "no such line": {"cuts": [{"line": 9, "reel": "R-00001", "length_mm": 1, "from_mm": 0}]},
    "no such reel": {"cuts": [{"line": 1, "reel": "R-99999", "length_mm": 1, "from_mm": 0}]},
    "no room": {"cuts": [{"line": 1, "reel": "R-00001", "length_mm": 200 * M}]},
    "no length": {"cuts": [{"line": 1, "reel": "R-00001", "length_mm": 0}]},
}


@pytest.mark.parametrize("body", list(UNFIT.values()), ids=UNFIT)
def test_an_unfit_plan_is_refused(qa, body):
    order, _ = order_of(30), given_reel(length_m=100)
    answer = qa.post(f"/api/orders/{order.code}/cutting/", body, format="json")
    assert answer.status_code == 400
    assert not CutPiece.objects.exists()


def test_an_order_line_is_asked_to_stay_together(qa):
    line = {"designation": ROPE, "length_mm": 30 * M, "quantity": 4, "together": "one_reel"}
    made = post(qa, "orders/", {"customer": given_customer().code, "lines": [line]})
    assert get(qa, f"orders/{made['code']}/")["lines"][0]["together"] == "one_reel"
    given_reel(length_m=100), given_reel(length_m=130)
    told = post(qa, f"orders/{made['code']}/cutting-proposal/")
    assert {cut["reel"] for cut in told["cuts"]} == {"R-00002"}
