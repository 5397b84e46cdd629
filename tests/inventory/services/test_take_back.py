import pytest

from inventory.rules.refusal import Refusal
from inventory.services.take_back import CannotTakeBack, take_back_piece
from tests.factories import (
    MOMENT,
    given_assembly,
    given_delivery,
    given_hold,
    given_piece,
    given_reel,
)
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db

M = 1000


@pytest.fixture
def take_back(stores_hand):
    def take_back(piece, **facts):
        asked = {"is_turned": True, "location": "Returns"}
        return take_back_piece(piece=piece, **(asked | facts), by=stores_hand, at=MOMENT)

    return take_back


@pytest.fixture
def delivered():
    piece = given_piece(reel=given_reel(), from_m=100, length_m=50)
    given_delivery(piece)
    return piece


def test_a_delivered_piece_is_a_reel_again(take_back, delivered):
    reel = take_back(delivered)
    assert (reel.origin, reel.length_mm, reel.location) == ("return", 50 * M, "Returns")
    assert (reel.origin_from_mm, reel.origin_to_mm, reel.is_turned) == (100 * M, 150 * M, True)
    assert reel.wound_from == delivered
    told = {"piece": delivered.code, "from_mm": 0, "to_mm": 50 * M, "is_turned": True}
    assert last_entry() == ("take_back_piece", reel.code, told)


def test_what_is_left_of_a_piece_comes_back(take_back, delivered):
    reel = take_back(delivered, from_mm=10 * M, to_mm=30 * M, is_turned=False)
    assert (reel.origin_from_mm, reel.origin_to_mm, reel.length_mm) == (110_000, 130_000, 20_000)


def test_a_returned_reel_is_cut_and_delivered_again(take_back, delivered):
    piece = given_piece(reel=take_back(delivered), length_m=50)
    assert given_delivery(piece).items.get().piece == piece


def test_goods_under_hold_come_back_too(take_back, delivered):
    given_hold(delivered.reel)
    assert take_back(delivered).pk


@pytest.mark.parametrize(
    ("facts", "why"),
    [
        ({"to_mm": 50 * M + 1}, "only 50.000 m long"),
        ({"from_mm": 50 * M}, "must end after"),
        ({"from_mm": -1}, "before metre 0"),
        ({"location": "x" * 61}, "Location"),
    ],
    ids=["longer than it was", "nothing", "before its end", "long location"],
)
def test_an_unfit_return_is_refused(take_back, delivered, facts, why):
    with refuses(Refusal, why):
        take_back(delivered, **facts)


def test_a_piece_comes_back_once(take_back, delivered):
    reel = take_back(delivered)
    with refuses(CannotTakeBack, f"already, as reel {reel.code}"):
        take_back(delivered)


def test_what_never_left_does_not_come_back(take_back):
    piece = given_piece()
    with refuses(CannotTakeBack, "was not delivered"):
        take_back(piece)


def test_an_assembly_is_no_reel_again(take_back):
    piece = given_piece()
    given_delivery(given_assembly(pieces=[piece]))
    with refuses(CannotTakeBack, "part of an assembly"):
        take_back(piece)
