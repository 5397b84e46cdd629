import pytest

from inventory.queries.hold_reach import reached_by
from inventory.queries.hold_subject import holdable_of_code, subject_of
from tests import factories as given

pytestmark = pytest.mark.django_db


@pytest.fixture
def sling():
    reel = given.given_reel(length_m=100)
    return given.given_assembly(pieces=[given.given_piece(reel=reel)])


def subjects_of(sling):
    piece = sling.piece_ties.get().piece
    return {
        "heat": piece.reel.heat_ties.get().heat,
        "reel": piece.reel,
        "lot": piece.assembly_tie.terminations.first().fittings.get().lot,
        "piece": piece,
        "assembly": sling,
    }


@pytest.mark.parametrize("name", ["heat", "reel", "lot", "piece", "assembly"])
def test_a_hold_on_anything_in_a_sling_reaches_the_sling(name, sling):
    hold = given.given_hold(subjects_of(sling)[name])
    assert [found.code for found in reached_by(hold).assemblies] == [sling.code]


def test_a_hold_on_other_metres_does_not_reach_the_sling(sling):
    reel = subjects_of(sling)["reel"]
    hold = given.given_hold(reel, from_mm=50_000, to_mm=60_000)
    assert reached_by(hold).assemblies == ()


def test_nothing_is_made_of_a_machine():
    hold = given.given_hold(given.given_machine())
    assert reached_by(hold) is None


@pytest.mark.parametrize("name", ["heat", "reel", "lot", "piece", "assembly"])
def test_a_hold_knows_what_it_is_on(name, sling):
    subject = subjects_of(sling)[name]
    assert subject_of(given.given_hold(subject)) == subject
    assert holdable_of_code(subject.code) == subject


def test_an_order_cannot_be_held():
    assert holdable_of_code(given.given_order().code) is None
