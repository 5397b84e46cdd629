"""Rope wound over twice keeps its metres: a suspect stretch of the mill's reel finds its pieces."""

import pytest

from certs.queries.tag_status import Standing, tag_answer
from certs.queries.trace import trace_code
from certs.services.issue import CannotIssue
from certs.services.tags import issue_tag
from inventory.queries.trace_back import point_on_piece
from inventory.rules.refusal import Refusal
from inventory.services.holds import release_hold
from inventory.services.rewind import rewind_reel
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.factories import (
    MOMENT,
    given_customer,
    given_delivery,
    given_hold,
    given_person,
    given_piece,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


def wound(reel, from_m, to_m):
    return rewind_reel(
        reel=reel, from_mm=from_m * 1000, to_mm=to_m * 1000, by=given_person(), at=MOMENT
    )


class Rope:
    """Metres 100 to 600 are wound off, then 0 to 200 of those: metre x is now mill metre 400 + x.

    Turned once, child metre x is 600 - x of the mill's; turned again, grandchild x is child
    200 - x, which is mill 600 - (200 - x) = 400 + x.
    """

    def __init__(self):
        self.mill_reel = given_documented_reel(length_m=1000)
        self.reel = wound(wound(self.mill_reel, 100, 600), 0, 200)
        self.before = given_piece(reel=self.reel, from_m=0, length_m=10)
        self.piece = given_piece(reel=self.reel, from_m=10, length_m=10)
        self.paper = issued(given_cut_length_draft(self.piece))
        given_delivery(self.piece, customer=given_customer("Invented Quarry"))
        self.tag = issue_tag(piece=self.piece, by=given_person(), at=MOMENT)

    def suspect(self, from_m, to_m):
        return given_hold(self.mill_reel, from_mm=from_m * 1000, to_mm=to_m * 1000)


@pytest.fixture
def rope():
    return Rope()


def test_a_point_on_the_piece_is_a_metre_of_the_mills_reel(rope):
    points = point_on_piece(rope.piece, mm_from_near_end=3_200)
    assert [point.metre_mm for point in points] == [13_200, 186_800, 413_200]
    assert points[-1].reel_code == rope.mill_reel.code


def test_the_story_shows_each_winding(rope):
    (back,) = trace_code(rope.piece.code)["back"]
    assert [(step["from_mm"], step["to_mm"], step["sign"]) for step in back["reels"]] == [
        (10_000, 20_000, 1),
        (180_000, 190_000, -1),
        (410_000, 420_000, 1),
    ]


def test_a_stretch_of_the_mills_reel_under_hold_stops_the_piece_on_site(rope):
    hold = rope.suspect(415, 416)
    answer = tag_answer(rope.tag.code)
    assert answer.standing == Standing.DO_NOT_USE
    assert hold.code in answer.reasons[0]


def test_it_stops_no_other_piece(rope):
    rope.suspect(420, 430)
    assert tag_answer(rope.tag.code).standing == Standing.GOOD


def test_nothing_under_hold_is_cut_or_certified(rope):
    rope.suspect(400, 410)
    with pytest.raises(CannotIssue, match="Holds"):
        issued(given_cut_length_draft(rope.before))
    rope.suspect(425, 426)
    with pytest.raises(Refusal, match="hold"):
        given_piece(reel=rope.reel, from_m=20, length_m=10)


def test_a_released_hold_frees_everything(rope):
    hold = rope.suspect(400, 600)
    release_hold(hold=hold, reason="examined, sound", by=given_person(), at=MOMENT)
    assert tag_answer(rope.tag.code).standing == Standing.GOOD
    assert given_piece(reel=rope.reel, from_m=20, length_m=10).code
