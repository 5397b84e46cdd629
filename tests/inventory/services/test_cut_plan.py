"""Booking a plan: all of its cuts, or none, whatever came in between."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection, connections

from inventory.models import CutPiece, JournalEntry
from inventory.queries.cutting_stock import demands_of, stock_for
from inventory.rules.cutting_plan import propose_cuts
from inventory.rules.cutting_terms import PlannedCut
from inventory.rules.metres import Stretch
from inventory.services import cut_plan, journal, locks
from inventory.services.authority import NotAllowed
from inventory.services.cut_plan import MOST_CUTS, CannotBook, book_plan
from inventory.services.orders import LineAsked
from tests.factories import MOMENT, ROPE, given_hold, given_order, given_piece, given_reel
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db

M = 1000


@pytest.fixture
def book(stores_hand):
    def book(order, *cuts):
        return book_plan(order=order, cuts=cuts, by=stores_hand, at=MOMENT)

    return book


def planned(reel, from_m, to_m, line="O-00001.1"):
    return PlannedCut(line, reel.code, Stretch(from_m * M, to_m * M))


def order_of(*lengths_m, **facts):
    return given_order(*(LineAsked(ROPE, length * M, **facts) for length in lengths_m))


def place(piece):
    return piece.reel.code, piece.from_mm // M, piece.to_mm // M, piece.order_line.position


def test_every_cut_is_made_in_the_order_given_with_an_entry_of_its_own(book):
    order, one, two = order_of(30, 20), given_reel(length_m=100), given_reel(length_m=50)
    before = JournalEntry.objects.count()
    pieces = book(order, planned(two, 0, 30), planned(one, 0, 20, "O-00001.2"))
    assert [place(p) for p in pieces] == [("R-00002", 0, 30, 1), ("R-00001", 0, 20, 2)]
    assert {(p.purpose, p.ordered_length_mm) for p in pieces} == {
        ("supply", 30_000), ("supply", 20_000),
    }  # fmt: skip
    assert JournalEntry.objects.count() == before + 2
    assert last_entry()[:2] == ("cut_piece", pieces[1].code)


def test_what_was_proposed_can_be_booked_and_serves_the_order(book):
    order = order_of(30, 20, 40)
    for length in (45, 60, 100):
        given_reel(length_m=length)
    demands = demands_of(order)
    plan = propose_cuts(demands, stock_for([ROPE]), shortest_usable_mm=10 * M)
    book(order, *plan.cuts)
    assert demands_of(order) == []


GONE = {
    "a metre was cut meanwhile": lambda reel: given_piece(reel=reel, from_m=35, length_m=1),
    "the reel was put on hold": given_hold,
    "a stretch of it was": lambda reel: given_hold(reel, from_mm=49 * M, to_mm=60 * M),
}


@pytest.mark.parametrize("meanwhile", list(GONE.values()), ids=GONE)
def test_a_cut_that_no_longer_fits_takes_the_rest_with_it(book, meanwhile):
    order, one, two = order_of(30, 20), given_reel(length_m=100), given_reel(length_m=100)
    meanwhile(two)
    why = r"Cut 2, 20.000 m of reel R-00002 for line 2, does not fit: .+ Nothing .+ was booked\."
    with refuses(CannotBook, why) as refused:
        book(order, planned(one, 0, 30), planned(two, 30, 50, "O-00001.2"))
    assert refused.value.cut == 1


def test_a_hold_placed_while_the_plan_is_booked_stops_all_of_it(book, monkeypatch):
    order, one, two = order_of(30, 20), given_reel(), given_reel()
    append = journal.append

    def after_a_hold(**entry):
        monkeypatch.setattr(journal, "append", append)
        given_hold(one)
        return append(**entry)

    monkeypatch.setattr(journal, "append", after_a_hold)
    with refuses(CannotBook, "Cut 1, .+ is under hold X-00001"):
        book(order, planned(one, 0, 30), planned(two, 0, 20, "O-00001.2"))


def test_the_same_metres_twice_are_refused(book):
    order, reel = order_of(30, 30), given_reel()
    with refuses(CannotBook, "Cut 2, .+ has left reel R-00001 already"):
        book(order, planned(reel, 0, 30), planned(reel, 29, 59, "O-00001.2"))


def test_more_than_the_line_asks_for_is_refused(book):
    order, reel = order_of(30), given_reel()
    with refuses(CannotBook, "Cut 2, .+ All 1 of this line are cut already"):
        book(order, planned(reel, 0, 30), planned(reel, 30, 60))


UNKNOWN = {
    "no such reel": (PlannedCut("O-00001.1", "R-99999", Stretch(0, 30 * M)), "no reel R-99999"),
    "no such line": (PlannedCut("O-00001.9", "R-00001", Stretch(0, 30 * M)), "no line O-00001.9"),
    "another order": (PlannedCut("O-00002.1", "R-00001", Stretch(0, 30 * M)), "no line O-00002.1"),
}


@pytest.mark.parametrize(("cut_", "why"), list(UNKNOWN.values()), ids=UNKNOWN)
def test_a_cut_names_a_reel_and_a_line_of_the_order(book, cut_, why):
    order, _ = order_of(30), given_reel()
    order_of(30)
    with refuses(CannotBook, f"Cut 1: there is {why}"):
        book(order, cut_)


@pytest.mark.parametrize("count", [0, MOST_CUTS + 1])
def test_a_plan_has_some_cuts_and_not_too_many(book, count):
    order, reel = order_of(30), given_reel()
    with refuses(CannotBook, f"1 to {MOST_CUTS} cuts; this one has {count}"):
        book(order, *[planned(reel, 0, 30)] * count)


def test_whoever_may_not_cut_books_nothing(auditor):
    order, reel = order_of(30), given_reel()
    with refuses(NotAllowed, "auditor"):
        book_plan(order=order, cuts=[planned(reel, 0, 30)], by=auditor, at=MOMENT)


def test_all_rows_are_locked_before_the_first_cut(book, monkeypatch):
    order, one, two = order_of(30, 20), given_reel(), given_reel()
    locked = []

    def lock(model, ids):
        locked.append((model.__name__, len(ids), CutPiece.objects.count()))
        return locks.lock_rows(model, ids)

    monkeypatch.setattr(cut_plan, "lock_rows", lock)
    book(order, planned(two, 0, 20, "O-00001.2"), planned(one, 0, 30))
    assert locked == [("Reel", 2, 0), ("OrderLine", 2, 0)]


@pytest.mark.skipif(connection.vendor != "postgresql", reason="SQLite has one writer at a time")
@pytest.mark.django_db(transaction=True)
def test_of_two_plans_for_the_same_metres_one_is_booked_whole(committed_db, stores_hand):
    one, two = given_reel(length_m=60), given_reel(length_m=60)
    orders = [order_of(50, 50), order_of(50, 50)]

    def book(order):
        cuts = [planned(reel, 0, 50, f"{order.code}.{n}") for n, reel in ((1, two), (2, one))]
        if order is orders[0]:
            cuts.reverse()
        try:
            return len(book_plan(order=order, cuts=cuts, by=stores_hand, at=MOMENT))
        except CannotBook:
            return 0
        finally:
            connections.close_all()

    with ThreadPoolExecutor(max_workers=2) as both:
        assert sorted(both.map(book, orders)) == [0, 2]
    assert CutPiece.objects.count() == 2
