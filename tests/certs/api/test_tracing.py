"""Stories and recalls over the API."""

from datetime import timedelta

import pytest
from django.utils import timezone

from tests.api import get
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.factories import MOMENT, given_assembly, given_delivery, given_fitting_lot, given_piece

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def piece(tables):
    """Ten metres, certified and delivered; ten more beside it."""
    reel = given_documented_reel()
    piece = given_piece(reel=reel)
    given_piece(reel=reel)
    issued(given_cut_length_draft(piece))
    given_delivery(piece)
    return piece


def codes(rows):
    return [row["code"] for row in rows]


def test_a_story_goes_back_to_the_heat_and_forward_to_the_customer(qa, piece):
    story = get(qa, "trace/", code=piece.code.lower())
    assert codes(story["back"][0]["heats"]) == ["H-00001"]
    assert codes(story["customers"]) == ["C-00001"]
    assert [paper["state"] for paper in story["certificates"]] == ["issued"]


def test_a_story_tells_where_a_point_is(qa, piece):
    story = get(qa, "trace/", code=piece.code, at_mm=2_500)
    assert story["point"]["on_reels"] == [{"reel": piece.reel.code, "metre_mm": 2_500}]


@pytest.mark.parametrize("code", ["P-99999", "nonsense", "C-00001"])
def test_a_code_that_leads_nowhere_says_so(qa, piece, code):
    answer = qa.get("/api/trace/", {"code": code})
    assert (answer.status_code, answer.json()["field"]) == (400, "code")


def test_a_stretch_recalls_exactly_what_was_cut_from_it(qa, piece):
    asked = {"reel": piece.reel.code, "from_mm": 0, "to_mm": 10_000}
    found = get(qa, "recall/", **asked)
    assert codes(found["pieces"]) == [piece.code]
    assert found["counts"]["certificates_in_force"] == 1
    assert codes(get(qa, "recall/", **(asked | {"from_mm": 9_999}))["pieces"]) == [piece.code]


def test_a_heat_recalls_every_piece(qa, piece):
    assert len(get(qa, "recall/", heat="H-00001")["pieces"]) == 2


def test_a_lot_recalls_its_assemblies(qa, piece):
    lot = given_fitting_lot()
    assembly = given_assembly(lot=lot)
    assert codes(get(qa, "recall/", lot=lot.code)["assemblies"]) == [assembly.code]


@pytest.mark.parametrize(
    "asked",
    [
        {},
        {"heat": "H-00001", "reel": "R-00001"},
        {"heat": "H-00001", "from_mm": 0},
        {"reel": "R-99999"},
        {"reel": "R-00001", "from_mm": 5, "to_mm": 5},
        {"reel": "R-00001", "to_mm": 10**9},
    ],
    ids=["nothing", "two things", "metres of a heat", "unknown", "no metres", "past the end"],
)
def test_a_recall_of_no_one_thing_is_refused(qa, piece, asked):
    assert qa.get("/api/recall/", asked).status_code in {400, 409}


def test_a_story_is_told_as_known_on_a_past_day(qa, piece):
    day = MOMENT.date()
    told = get(qa, "trace/", code=piece.code, on=day.isoformat())
    assert told == get(qa, "trace/", code=piece.code)
    for other in (day - timedelta(days=1), timezone.localdate()):
        answer = qa.get("/api/trace/", {"code": piece.code, "on": other.isoformat()})
        assert (answer.status_code, answer.json()["field"]) == (400, "on")
