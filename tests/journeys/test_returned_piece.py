"""A customer sends rope back: it is a reel again, is cut again, and keeps its whole past."""

import pytest

from certs.queries.tag_status import Standing, tag_answer
from certs.queries.trace import recall_reel, trace_code
from certs.services.tags import issue_tag
from inventory.services.take_back import take_back_piece
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.factories import (
    MOMENT,
    given_customer,
    given_delivery,
    given_person,
    given_piece,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


class Return:
    """Metres 100 to 150 are sold; 40 m of them come back turned, and 5 m are sold once more.

    The part from 10 m on is mill metre 110 to 150; turned, metre x of the new reel is mill 150 - x.
    """

    def __init__(self):
        self.reel = given_documented_reel(length_m=1000)
        self.first = given_piece(reel=self.reel, from_m=100, length_m=50)
        issued(given_cut_length_draft(self.first))
        self.first_tag = issue_tag(piece=self.first, by=given_person(), at=MOMENT)
        given_delivery(self.first, customer=given_customer("Invented Harbour"))
        self.back = take_back_piece(
            piece=self.first,
            from_mm=10_000,
            is_turned=True,
            location="Bay 9",
            by=given_person(),
            at=MOMENT,
        )
        self.again = given_piece(reel=self.back, from_m=0, length_m=5)
        self.paper = issued(given_cut_length_draft(self.again))
        self.tag = issue_tag(piece=self.again, by=given_person(), at=MOMENT)
        given_delivery(self.again, customer=given_customer("Invented Theatre"))


@pytest.fixture
def returned():
    return Return()


def test_the_new_reel_is_as_long_as_what_came_back(returned):
    assert (returned.back.length_mm, returned.back.origin) == (40_000, "return")


def test_the_second_sale_goes_back_to_the_mill(returned):
    (back,) = trace_code(returned.again.code)["back"]
    assert [(step["from_mm"], step["to_mm"]) for step in back["reels"]] == [
        (0, 5_000),
        (145_000, 150_000),
    ]
    assert back["heats"]
    assert back["mill_documents"]


def test_the_basis_of_the_mills_reel_stands_for_the_new_one(returned):
    assert '"stated":"98.9"' in returned.paper.snapshot


def test_only_the_new_tag_is_good(returned):
    assert tag_answer(returned.tag.code).standing == Standing.GOOD
    assert tag_answer(returned.first_tag.code).standing == Standing.DO_NOT_USE


@pytest.mark.parametrize(
    ("from_m", "to_m", "customers"),
    [
        pytest.param(146, 147, {"Invented Harbour", "Invented Theatre"}, id="sold twice"),
        pytest.param(120, 121, {"Invented Harbour"}, id="came back, is in store"),
        pytest.param(105, 106, {"Invented Harbour"}, id="stayed with the customer"),
        pytest.param(150, 160, set(), id="never sold"),
    ],
)
def test_a_recall_calls_everyone_who_has_or_had_it(returned, from_m, to_m, customers):
    found = recall_reel(returned.reel, from_mm=from_m * 1000, to_mm=to_m * 1000)
    assert {one["name"] for one in found["customers"] if one["deliveries"]} == customers
