"""A hold that is placed while an act is under way, anywhere in the genealogy, still stops it."""

from concurrent.futures import ThreadPoolExecutor
from functools import partial

import pytest
from django.db import connection, connections, transaction

from inventory.rules.metres import Stretch
from inventory.services import assemble, cut, deliver, journal, rewind
from inventory.services.assemble import CannotAssemble, PieceAsked, TerminationAsked
from inventory.services.cut import CannotCut
from inventory.services.deliver import CannotDeliver
from inventory.services.hold_watch import no_hold_meanwhile
from inventory.services.leaving import check_not_held
from inventory.services.rewind import CannotRewind
from tests.factories import (
    MOMENT,
    given_assembly,
    given_customer,
    given_heat,
    given_hold,
    given_piece,
    given_reel,
)
from tests.inventory.services.record import refuses

pytestmark = pytest.mark.django_db

ENDS = [TerminationAsked(end, "hand_splice") for end in ("near", "far")]


@pytest.fixture
def heat():
    return given_heat()


@pytest.fixture
def reel(heat):
    return given_reel(heats=[heat])


@pytest.fixture
def held_meanwhile(heat, monkeypatch):
    """Somebody else's hold on the heat gets the head of the journal first."""
    append = journal.append

    def after_a_hold(**entry):
        monkeypatch.setattr(journal, "append", append)
        given_hold(heat)
        return append(**entry)

    return lambda: monkeypatch.setattr(journal, "append", after_a_hold)


def test_no_piece_is_cut(reel, held_meanwhile, stores_hand):
    asked = {"from_mm": 0, "length_mm": 1_000, "purpose": "supply"}
    held_meanwhile()
    with refuses(CannotCut, "under hold X-00001"):
        cut.cut_piece(reel=reel, **asked, by=stores_hand, at=MOMENT)


def test_nothing_is_rewound(reel, held_meanwhile, stores_hand):
    held_meanwhile()
    with refuses(CannotRewind, "under hold X-00001"):
        rewind.rewind_reel(reel=reel, from_mm=0, to_mm=1_000, by=stores_hand, at=MOMENT)


def test_nothing_is_built(reel, held_meanwhile, stores_hand):
    asked = [PieceAsked(given_piece(reel=reel), ENDS)]
    held_meanwhile()
    with refuses(CannotAssemble, "under hold X-00001"):
        assemble.build_assembly(kind="one_leg", pieces=asked, by=stores_hand, at=MOMENT)


@pytest.mark.parametrize("what", ["pieces", "assemblies"])
def test_nothing_is_delivered(reel, held_meanwhile, stores_hand, what):
    piece = given_piece(reel=reel)
    things = {"pieces": [], "assemblies": []}
    things[what] = [piece if what == "pieces" else given_assembly(pieces=[piece])]
    customer = given_customer()
    held_meanwhile()
    with refuses(CannotDeliver, "under hold X-00001"):
        deliver.record_delivery(customer=customer, **things, by=stores_hand, at=MOMENT)


@pytest.mark.skipif(connection.vendor != "postgresql", reason="SQLite has one writer at a time")
@pytest.mark.django_db(transaction=True)
def test_a_hold_committed_over_another_connection_is_seen(committed_db):
    heat = given_heat()
    reel = given_reel(heats=[heat])
    check = partial(check_not_held, reel, Stretch(0, 1_000), refusal=CannotCut)
    with ThreadPoolExecutor(max_workers=1) as elsewhere:
        with (
            pytest.raises(CannotCut, match="X-00001"),
            transaction.atomic(),
            no_hold_meanwhile(check),
        ):
            elsewhere.submit(given_hold, heat).result()
        elsewhere.submit(connections.close_all).result()


def test_holds_are_looked_at_once_while_none_is_placed():
    looks = []
    with no_hold_meanwhile(lambda: looks.append("look")):
        pass
    assert looks == ["look"]
