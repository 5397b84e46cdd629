import pytest

from inventory.rules.cutting_check import check_cuts, missing_by_line
from inventory.rules.cutting_terms import PlannedCut, Together
from inventory.rules.metres import Stretch
from tests.inventory.rules.cutting import M, free, reels, want

LINE = "O-00001.1"
HEATS = {1: frozenset({1}), 2: frozenset({2})}


def cut(reel, from_m, to_m, line=LINE):
    return PlannedCut(line, reel, Stretch(from_m * M, to_m * M))


def faults(cuts, demand, stock):
    found = check_cuts(cuts, demands=[demand], stock=stock)
    return [(fault.cut, fault.text, fault.is_grave) for fault in found]


def test_cuts_that_fit_have_no_fault():
    cuts = [cut("R-1", 0, 30), cut("R-1", 30, 60), cut("R-2", 0, 30)]
    assert faults(cuts, want(30, 3), reels(100, 100)) == []


def test_pieces_may_be_listed_in_any_order():
    assert faults([cut("R-1", 30, 60), cut("R-1", 0, 30)], want(30, 2), reels(100)) == []


WRONG = {
    "a line that asks for nothing more": (
        [cut("R-1", 0, 30, "O-00009.1")], want(30), reels(100), 0, "has nothing left to be cut",
    ),
    "a reel that is not offered": ([cut("R-9", 0, 30)], want(30), reels(100), 0, "Nothing of reel"),
    "another rope": (
        [cut("R-1", 0, 30)], want(30),
        [free("R-1", 0, 100, designation="16 6x7-WSC 1770 B sZ")], 0, "asks for another rope",
    ),
    "past the end": ([cut("R-1", 80, 110)], want(30), reels(100), 0, "is not all clear"),
    "across metres that are gone": (
        [cut("R-1", 20, 50)], want(30), [free("R-1", 0, 30), free("R-1", 40, 90)], 0,
        "0.000 m to 30.000 m; 40.000 m to 90.000 m is",
    ),
    "the same metres twice": (
        [cut("R-1", 0, 30), cut("R-1", 29, 59)], want(30, 2), reels(100), 1, "It shares metres",
    ),
    "more pieces than asked for": (
        [cut("R-1", 0, 30), cut("R-1", 30, 60)], want(30), reels(100), None, "asks for 1 more",
    ),
    "two reels for one": (
        [cut("R-1", 0, 30), cut("R-2", 0, 30)], want(30, 2, together=Together.ONE_REEL),
        reels(100, 100), None, "from one reel, not R-1, R-2",
    ),
    "another reel than the first pieces": (
        [cut("R-1", 0, 30)], want(30, together=Together.ONE_REEL, bound_reel="R-2"),
        reels(100), None, "from one reel, not R-1, R-2",
    ),
    "two heats for one": (
        [cut("R-1", 0, 30), cut("R-2", 0, 30)], want(30, 2, together=Together.ONE_HEAT),
        [free("R-1", 0, 40, heats=HEATS[1]), free("R-2", 0, 40, heats=HEATS[2])], None,
        "of the same heats",
    ),
    "heats that change": (
        [cut("R-1", 0, 30)], want(30, together=Together.ONE_HEAT),
        [free("R-1", 0, 40, heats=None)], None, "of the same heats",
    ),
    "other heats than the first pieces": (
        [cut("R-1", 0, 30)], want(30, together=Together.ONE_HEAT, bound_heats=HEATS[2]),
        [free("R-1", 0, 40, heats=HEATS[1])], None, "of the same heats",
    ),
}  # fmt: skip


@pytest.mark.parametrize(
    ("cuts", "demand", "stock", "place", "words"), list(WRONG.values()), ids=WRONG
)
def test_a_grave_fault_is_found(cuts, demand, stock, place, words):
    found = [f for f in faults(cuts, demand, stock) if f[2]]
    assert [fault[0] for fault in found] == [place]
    assert words in found[0][1]


DOUBTFUL = {
    "a length within its tolerance or not": (
        [cut("R-1", 0, 31)], want(30), 0, "asks for 30.000 m; this piece is 31.000 m",
    ),
    "rope left before a piece": ([cut("R-1", 5, 35)], want(30), 0, "falls into two"),
    "more in any lengths than asked for": (
        [cut("R-1", 0, 31)], want(30, is_one_length=False), None, "no more than 30.000 m",
    ),
}  # fmt: skip


@pytest.mark.parametrize(("cuts", "demand", "place", "words"), DOUBTFUL.values(), ids=DOUBTFUL)
def test_what_deserves_a_second_look_is_told(cuts, demand, place, words):
    ((where, text, is_grave),) = faults(cuts, demand, reels(100))
    assert (where, is_grave) == (place, False)
    assert words in text


def test_what_is_left_uncut_is_told_by_line():
    demands = [want(30, 3), want(20, line="O-00001.2", is_one_length=False)]
    cuts = [cut("R-1", 0, 30), cut("R-1", 30, 55, "O-00001.2")]
    assert missing_by_line(cuts, demands=demands) == {LINE: 60_000, "O-00001.2": 0}
