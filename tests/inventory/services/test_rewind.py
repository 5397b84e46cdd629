import pytest

from inventory.models import CutPiece, Reel
from inventory.queries.stock import reel_balance
from inventory.rules.refusal import Refusal
from inventory.services.rewind import CannotRewind, rewind_reel
from tests.factories import MOMENT, given_hold, given_mill_document, given_piece, given_reel
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db

M = 1000
OF_THE_ROPE = [
    "designation",
    "diameter_nm",
    "construction",
    "rope_core",
    "grade",
    "finish",
    "lay",
    "assumed_parts",
    "mill",
    "mill_reel_number",
    "mill_document",
    "marked_grade",
    "declared_force_n",
    "declared_mass_g_per_100m",
    "lay_length_um",
    "marking",
]


@pytest.fixture
def rewind(stores_hand):
    def rewind(reel, from_m, to_m, **facts):
        return rewind_reel(
            reel=reel, from_mm=from_m * M, to_mm=to_m * M, **facts, by=stores_hand, at=MOMENT
        )

    return rewind


def test_a_stretch_becomes_a_reel_of_its_own(rewind):
    reel = given_reel()
    wound = rewind(reel, 100, 300, location="Bay 4")
    assert (wound.code, wound.origin, wound.length_mm) == ("R-00002", "rewind", 200 * M)
    assert (wound.origin_from_mm, wound.origin_to_mm) == (100 * M, 300 * M)
    assert (wound.is_turned, wound.location) == (True, "Bay 4")
    cut = CutPiece.objects.get()
    assert (cut.purpose, cut.from_mm, cut.to_mm) == ("rewind", 100 * M, 300 * M)
    assert (wound.wound_from, cut.reel) == (cut, reel)
    place = {"from_mm": 100 * M, "to_mm": 300 * M, "is_turned": True}
    told = {"reel": reel.code, "piece": cut.code} | place
    assert last_entry() == ("rewind_reel", "R-00002", told)


def test_the_ledger_of_both_reels_adds_up(rewind):
    reel = given_reel()
    wound = rewind(reel, 100, 300)
    assert (reel_balance(reel).rewind_mm, reel_balance(reel).remaining_mm) == (200 * M, 800 * M)
    assert reel_balance(wound).remaining_mm == 200 * M


def test_the_rope_stays_the_same_rope(rewind):
    reel = given_reel(
        mill_document=given_mill_document(),
        declared_force_n=90_000,
        declared_mass_g_per_100m=54_000,
        lay_length_um=75_500,
        marked_grade="1770",
    )
    wound = Reel.objects.get(pk=rewind(reel, 0, 10).pk)
    assert [getattr(wound, n) for n in OF_THE_ROPE] == [getattr(reel, n) for n in OF_THE_ROPE]
    assert not wound.heat_ties.exists()


def test_wound_twice_it_is_not_turned(rewind):
    assert not rewind(given_reel(), 0, 10, is_turned=False).is_turned


def test_a_rewound_reel_is_rewound_again(rewind):
    again = rewind(rewind(given_reel(), 0, 100), 10, 20)
    assert (again.length_mm, again.wound_from.reel.origin) == (10 * M, "rewind")


@pytest.mark.parametrize(
    ("from_m", "to_m", "why"),
    [
        (0, 11, "has left reel"),
        (990, 1001, "passes the end"),
        (20, 20, "must end after"),
        (-1, 5, "before metre 0"),
    ],
    ids=["gone", "past the end", "nothing", "before the end"],
)
def test_metres_that_are_not_there_are_not_rewound(rewind, from_m, to_m, why):
    reel = given_reel()
    given_piece(reel=reel)
    with refuses(Refusal, why):
        rewind(reel, from_m, to_m)


def test_nothing_under_hold_is_rewound(rewind):
    reel = given_reel()
    given_hold(reel, from_mm=50 * M, to_mm=51 * M)
    with refuses(CannotRewind, "under hold"):
        rewind(reel, 0, 100)


def test_a_hold_reaches_the_rewound_reel(rewind):
    reel = given_reel()
    wound = rewind(reel, 0, 100)
    given_hold(reel, from_mm=0, to_mm=10 * M)
    assert rewind(wound, 0, 90).length_mm == 90 * M
    with refuses(CannotRewind, "under hold"):
        rewind(wound, 90, 100)
