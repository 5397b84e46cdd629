import pytest

from inventory.models import Hold
from inventory.queries.hold_subject import subject_of
from inventory.rules.refusal import Refusal
from inventory.services.holds import CannotHold, place_hold, release_hold
from tests.factories import (
    MOMENT,
    given_assembly,
    given_fitting_lot,
    given_heat,
    given_hold,
    given_machine,
    given_piece,
    given_reel,
)
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db

SUBJECTS = {
    "heat": given_heat,
    "reel": given_reel,
    "fitting_lot": given_fitting_lot,
    "testing_machine": given_machine,
    "piece": given_piece,
    "assembly": given_assembly,
}


@pytest.fixture
def hold(bench_hand):
    def hold(subject, reason=" broken wires ", **stretch):
        return place_hold(subject=subject, reason=reason, **stretch, by=bench_hand, at=MOMENT)

    return hold


@pytest.mark.parametrize("name", SUBJECTS)
def test_anything_is_put_on_hold(hold, name):
    thing = SUBJECTS[name]()
    placed = Hold.objects.get(pk=hold(thing).pk)
    assert getattr(placed, name) == thing == subject_of(placed)
    assert (placed.code, placed.reason, placed.released_at) == ("X-00001", "broken wires", None)
    told = {"on": thing.code, "from_mm": None, "to_mm": None}
    assert last_entry() == ("place_hold", "X-00001", told)


def test_a_stretch_of_a_reel_is_put_on_hold(hold):
    placed = hold(given_reel(), from_mm=5, to_mm=9)
    assert (placed.from_mm, placed.to_mm) == (5, 9)
    assert last_entry()[2]["from_mm"] == 5


@pytest.mark.parametrize(
    ("stretch", "why"),
    [
        ({"from_mm": 5}, "both ends"),
        ({"to_mm": 5}, "both ends"),
        ({"from_mm": 5, "to_mm": 5}, "must end after"),
        ({"from_mm": 0, "to_mm": 1_000_001}, "The reel ends at 1000.000 m"),
    ],
    ids=["no end", "no start", "nothing", "past the end"],
)
def test_a_stretch_that_is_not_the_reels_is_refused(hold, stretch, why):
    reel = given_reel()
    with refuses(Refusal, why):
        hold(reel, **stretch)


def test_only_a_reel_has_metres(hold):
    piece = given_piece()
    with refuses(CannotHold, "Only a reel"):
        hold(piece, from_mm=0, to_mm=5)


@pytest.mark.parametrize(("reason", "why"), [(" ", "what is in doubt"), ("r" * 301, "Reason")])
def test_a_hold_has_a_reason(hold, reason, why):
    reel = given_reel()
    with refuses(CannotHold, why):
        hold(reel, reason=reason)


def test_a_released_hold_stays_on_record(qa_officer):
    placed = given_hold(given_reel())
    release_hold(hold=placed, reason=" looked at ", by=qa_officer, at=MOMENT)
    placed.refresh_from_db()
    assert (placed.released_at, placed.released_by) == (MOMENT, qa_officer)
    assert (placed.reason, placed.release_reason) == ("broken wires seen", "looked at")
    assert last_entry()[:2] == ("release_hold", placed.code)


@pytest.mark.parametrize(
    ("reason", "why"), [(" ", "how the doubt was settled"), ("r" * 301, "Release reason")]
)
def test_a_release_has_a_reason(qa_officer, reason, why):
    placed = given_hold(given_reel())
    with refuses(CannotHold, why):
        release_hold(hold=placed, reason=reason, by=qa_officer, at=MOMENT)
    placed.refresh_from_db()
    assert placed.released_at is None


def test_a_hold_is_released_once(qa_officer):
    placed = given_hold(given_reel())
    release_hold(hold=placed, reason="looked at", by=qa_officer, at=MOMENT)
    with refuses(CannotHold, "released already"):
        release_hold(hold=placed, reason="again", by=qa_officer, at=MOMENT)


def test_a_thing_may_be_under_two_holds(hold):
    reel = given_reel()
    assert {hold(reel).code, hold(reel).code} == {"X-00001", "X-00002"}
