import pytest

from inventory.models import CutPiece, CutReversal
from inventory.rules.refusal import Refusal
from inventory.services.cut import CannotCut, cut_piece, reverse_cut
from inventory.services.orders import LineAsked
from tests.factories import (
    MOMENT,
    ROPE,
    given_assembly,
    given_delivery,
    given_hold,
    given_order,
    given_order_line,
    given_piece,
    given_reel,
)
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db

M = 1000


@pytest.fixture
def cut(stores_hand):
    def cut(reel, **facts):
        asked = {"from_mm": None, "length_mm": 10 * M, "purpose": "supply"}
        return cut_piece(reel=reel, **(asked | facts), by=stores_hand, at=MOMENT)

    return cut


def place(piece):
    return piece.from_mm // M, piece.to_mm // M


def test_a_piece_keeps_what_was_said_of_it(cut, stores_hand):
    reel = given_reel()
    piece = cut(reel, from_mm=5 * M, near_end="seized", far_end="fused", note=" end marked ")
    piece.refresh_from_db()
    assert (piece.code, piece.purpose, place(piece)) == ("P-00001", "supply", (5, 15))
    assert (piece.near_end, piece.far_end, piece.note) == ("seized", "fused", "end marked")
    assert (piece.cut_at, piece.cut_by, piece.order_line) == (MOMENT, stores_hand, None)
    detail = {"reel": reel.code, "from_mm": 5000, "to_mm": 15000, "purpose": "supply"}
    told = ("cut_piece", "P-00001", detail | {"order": None, "order_line": None})
    assert last_entry() == told


def test_without_a_place_the_first_free_metres_are_cut(cut):
    reel = given_reel(length_m=100)
    cut(reel, from_mm=5 * M)
    assert place(cut(reel, length_mm=5 * M)) == (0, 5)
    assert place(cut(reel)) == (15, 25)


def test_metres_under_hold_are_passed_over(cut):
    reel = given_reel(length_m=100)
    given_hold(reel, from_mm=0, to_mm=20 * M)
    assert place(cut(reel)) == (20, 30)


def test_the_last_metre_can_be_cut(cut):
    reel = given_reel(length_m=10)
    assert place(cut(reel)) == (0, 10)


@pytest.mark.parametrize("purpose", ["supply", "sample", "scrap"])
def test_a_piece_has_a_purpose(cut, purpose):
    assert cut(given_reel(), purpose=purpose).purpose == purpose


UNFIT = {
    "for rewinding": ({"purpose": "rewind"}, "rewinding has its own page"),
    "for nothing": ({"purpose": ""}, "is cut for one of"),
    "no length": ({"length_mm": 0}, "Give the length"),
    "less than none": ({"length_mm": -1}, "Give the length"),
    "before the free end": ({"from_mm": -1}, "before metre 0"),
    "past the end": ({"from_mm": 91 * M}, "passes the end of reel R-00001 at 100.000 m"),
    "an unknown end": ({"near_end": "frayed"}, "Near end"),
    "a long note": ({"note": "n" * 201}, "Note"),
    "too short": ({"ordered_length_mm": 10 * M + 1}, "10.000 m does not serve 10.001 m"),
    "too long": (
        {"ordered_length_mm": 10 * M - 6, "tolerance_plus_mm": 5},
        "does not serve",
    ),
    "tolerances with a sign": (
        {"ordered_length_mm": 10 * M, "tolerance_minus_mm": -1},
        "without a sign",
    ),
}


@pytest.mark.parametrize(("facts", "why"), list(UNFIT.values()), ids=UNFIT)
def test_an_unfit_cut_is_refused(cut, facts, why):
    reel = given_reel(length_m=100)
    with refuses(Refusal, why):
        cut(reel, **facts)


def test_a_length_in_its_tolerance_is_cut(cut):
    piece = cut(given_reel(), ordered_length_mm=9_990, tolerance_plus_mm=10)
    assert (piece.ordered_length_mm, piece.tolerance_plus_mm) == (9_990, 10)


def test_metres_that_are_gone_are_refused_with_what_is_left(cut):
    reel = given_reel(length_m=100)
    cut(reel, from_mm=20 * M)
    with refuses(CannotCut, r"Still on it: 0.000 m to 20.000 m; 30.000 m to 100.000 m"):
        cut(reel, from_mm=25 * M)


def test_of_an_empty_reel_nothing_is_left(cut):
    reel = given_reel(length_m=10)
    cut(reel)
    with refuses(CannotCut, "Still on it: nothing"):
        cut(reel, from_mm=0)
    with refuses(CannotCut, "Nothing is left on reel R-00001"):
        cut(reel)


def test_a_length_too_long_is_refused_with_the_reel_that_can_give_it(cut):
    small, large = given_reel(length_m=100), given_reel(length_m=300)
    given_reel(length_m=900, designation="12 6x36WS-IWRC 1770 B sZ")
    cut(small, from_mm=30 * M)
    why = f"its longest is 60.000 m. Reel {large.code} can give it."
    with refuses(CannotCut, why):
        cut(small, length_mm=200 * M)


def test_a_length_that_no_reel_can_give_is_refused_with_the_nearest(cut):
    small, large = given_reel(length_m=100), given_reel(length_m=300)
    why = f"No reel of this rope can give it; the nearest is 300.000 m from reel {large.code}"
    with refuses(CannotCut, why):
        cut(small, length_mm=301 * M)


def test_when_nothing_of_a_rope_is_left_that_is_said(cut):
    reel = given_reel(length_m=10)
    cut(reel)
    with refuses(CannotCut, "No other reel of this rope has any left"):
        cut(reel, length_mm=1)


HELD = {
    "the heat": lambda reel: given_hold(reel.heat_ties.get().heat),
    "the reel": given_hold,
    "a metre of it": lambda reel: given_hold(reel, from_mm=9 * M, to_mm=11 * M),
}


@pytest.mark.parametrize("hold", list(HELD.values()), ids=HELD)
@pytest.mark.parametrize("purpose", ["supply", "sample", "scrap"])
def test_nothing_is_cut_under_hold(cut, hold, purpose):
    reel = given_reel(length_m=15)
    hold(reel)
    with refuses(CannotCut, "part of it, is under hold X-00001: broken wires seen"):
        cut(reel, from_mm=0, purpose=purpose)
    with refuses(CannotCut, "under hold X-00001"):
        cut(reel, purpose=purpose)


def test_beside_a_held_stretch_one_may_cut(cut):
    reel = given_reel()
    given_hold(reel, from_mm=10 * M, to_mm=11 * M)
    assert place(cut(reel, from_mm=0)) == (0, 10)
    assert place(cut(reel, from_mm=11 * M)) == (11, 21)


def test_a_piece_for_an_order_takes_length_and_tolerance_from_its_line(cut):
    asked = LineAsked(ROPE, 50 * M, tolerance_minus_mm=20, tolerance_plus_mm=100)
    line = given_order(asked).lines.get()
    piece = cut(given_reel(), length_mm=50_100, order_line=line)
    assert (piece.ordered_length_mm, piece.tolerance_minus_mm) == (50_000, 20)
    assert (piece.tolerance_plus_mm, piece.order_line) == (100, line)
    assert last_entry()[2]["order"] == line.order.code
    assert last_entry()[2]["order_line"] == 1


@pytest.mark.parametrize(
    ("facts", "why"),
    [
        ({"length_mm": 49 * M}, "50.000 m in one length"),
        ({"length_mm": 50 * M, "purpose": "sample"}, "Only a piece for supply"),
        ({"length_mm": 50 * M, "ordered_length_mm": 50 * M}, "stands on the order line"),
    ],
    ids=["too short", "a sample", "another ordered length"],
)
def test_a_piece_that_does_not_serve_the_order_is_refused(cut, facts, why):
    reel, line = given_reel(), given_order_line(length_m=50)
    with refuses(CannotCut, why):
        cut(reel, order_line=line, **facts)


def test_another_rope_does_not_serve_the_order(cut):
    reel, line = given_reel(designation="12 6x7-FC 1770 B sZ"), given_order_line(length_m=10)
    with refuses(CannotCut, "asks for 12 6x7-WSC 1770 B sZ; reel R-00001 is 12 6x7-FC"):
        cut(reel, order_line=line)


def test_as_many_are_cut_as_were_ordered(cut, qa_officer):
    reel, line = given_reel(), given_order_line(length_m=10, quantity=2)
    first = cut(reel, order_line=line)
    cut(reel, order_line=line)
    with refuses(CannotCut, "All 2 of this line are cut already"):
        cut(reel, order_line=line)
    reverse_cut(cut=first, reason="wrong end", by=qa_officer, at=MOMENT)
    assert cut(reel, order_line=line).pk


def test_in_several_lengths_only_if_asked(cut):
    reel, line = given_reel(), given_order_line(length_m=50, as_one_length=False)
    assert cut(reel, length_mm=30 * M, order_line=line).ordered_length_mm is None
    with refuses(CannotCut, "Only 20.000 m of this line are still to be cut"):
        cut(reel, length_mm=21 * M, order_line=line)
    cut(reel, length_mm=20 * M, order_line=line)
    with refuses(CannotCut, "Only 0.000 m"):
        cut(reel, length_mm=1, order_line=line)


def test_a_reversed_cut_gives_its_metres_back(cut, qa_officer):
    reel = given_reel()
    piece = cut(reel)
    reversal = reverse_cut(cut=piece, reason=" wrong reel ", by=qa_officer, at=MOMENT)
    piece.refresh_from_db()
    assert (piece.is_reversed, reversal.reason) == (True, "wrong reel")
    act, subject, detail = last_entry()
    assert (act, subject, detail["from_mm"]) == ("reverse_cut", piece.code, 0)
    assert place(cut(reel)) == (0, 10)
    assert CutPiece.objects.count() == 2


def test_a_cut_is_reversed_once_and_with_a_reason(cut, qa_officer):
    piece = cut(given_reel())
    with refuses(CannotCut, "Give the reason"):
        reverse_cut(cut=piece, reason=" ", by=qa_officer, at=MOMENT)
    reverse_cut(cut=piece, reason="slip", by=qa_officer, at=MOMENT)
    with refuses(CannotCut, "reversed already"):
        reverse_cut(cut=piece, reason="again", by=qa_officer, at=MOMENT)
    assert CutReversal.objects.count() == 1


USES = {
    "delivered": (given_delivery, "cannot be reversed"),
    "built in": (lambda piece: given_assembly(pieces=[piece]), "cannot be reversed"),
    "under hold": (given_hold, "under hold"),
}


@pytest.mark.parametrize(("use", "why"), list(USES.values()), ids=USES)
def test_a_piece_in_use_stays_cut(qa_officer, use, why):
    piece = given_piece()
    use(piece)
    with refuses(CannotCut, why):
        reverse_cut(cut=piece, reason="slip", by=qa_officer, at=MOMENT)
    piece.refresh_from_db()
    assert not piece.is_reversed
