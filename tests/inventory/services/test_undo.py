from datetime import timedelta

import pytest

from certs.services.tags import issue_tag
from inventory.models import CutReversal
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from inventory.services.cut import CannotCut, cut_piece
from inventory.services.undo import CannotUndo, undo_cut, undo_hold
from tests import factories as given
from tests.factories import MOMENT
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db
SOON, LATE = MOMENT + timedelta(minutes=9), MOMENT + timedelta(minutes=11)


@pytest.fixture
def own_cut():
    """A piece of 10 m and the storekeeper who cut it."""
    storekeeper = given.given_person(Role.STORES)
    asked = {"from_mm": None, "length_mm": 10_000, "purpose": "supply"}
    piece = cut_piece(reel=given.given_reel(), **asked, by=storekeeper, at=MOMENT)
    return piece, storekeeper


def test_a_storekeeper_undoes_a_cut_of_just_now(own_cut):
    piece, storekeeper = own_cut
    undo_cut(cut=piece, by=storekeeper, at=SOON)
    piece.refresh_from_db()
    assert piece.is_reversed
    assert last_entry()[:2] == ("reverse_cut", piece.code)
    assert "undone within 10 minutes" in CutReversal.objects.get().reason
    # Its metres are free again: the next piece is the same stretch.
    assert given.given_piece(reel=piece.reel, length_m=10).from_mm == piece.from_mm


def test_it_is_too_late_after_a_while(own_cut):
    piece, storekeeper = own_cut
    with refuses(CannotUndo, "more than 10 minutes ago"):
        undo_cut(cut=piece, by=storekeeper, at=LATE)


def test_nobody_undoes_what_another_cut(own_cut):
    piece, _ = own_cut
    with refuses(CannotUndo, "Only the person who recorded it"):
        undo_cut(cut=piece, by=given.given_person(Role.QA_OFFICER), at=SOON)


@pytest.mark.parametrize(
    ("rest", "why"),
    [
        pytest.param(
            lambda piece: given.given_assembly(pieces=[piece]), "omething was made", id="built in"
        ),
        pytest.param(given.given_delivery, "omething was made", id="delivered"),
        pytest.param(given.given_hold, "under hold", id="held"),
        pytest.param(
            lambda piece: issue_tag(piece=piece, by=given.given_person(), at=MOMENT),
            "tag names this piece",
            id="its label printed",
        ),
    ],
)
def test_what_something_rests_on_stays_cut(own_cut, rest, why):
    piece, storekeeper = own_cut
    rest(piece)
    with refuses(CannotCut, why):
        undo_cut(cut=piece, by=storekeeper, at=SOON)


def test_a_cut_is_undone_once(own_cut):
    piece, storekeeper = own_cut
    undo_cut(cut=piece, by=storekeeper, at=SOON)
    with refuses(CannotCut, "reversed already"):
        undo_cut(cut=piece, by=storekeeper, at=SOON)


def test_a_hold_of_just_now_is_undone_and_stays_on_record():
    hold = given.given_hold(given.given_reel())
    undone = undo_hold(hold=hold, by=hold.placed_by, at=SOON)
    assert (undone.released_at, undone.placed_at) == (SOON, MOMENT)
    assert last_entry()[:2] == ("release_hold", hold.code)


def test_only_who_releases_holds_undoes_one():
    hold = given.given_hold(given.given_reel())
    with pytest.raises(NotAllowed):
        undo_hold(hold=hold, by=given.given_person(Role.STORES), at=SOON)
    with refuses(CannotUndo, "more than 10 minutes ago"):
        undo_hold(hold=hold, by=hold.placed_by, at=LATE)
