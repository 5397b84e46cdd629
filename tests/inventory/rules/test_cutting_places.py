import pytest

from inventory.rules.cutting_places import NoRoom, WishedCut, placed
from inventory.rules.refusal import Refusal
from tests.inventory.rules.cutting import M, free

LINE = "O-00001.1"


def wish(reel, length_m, from_m=None):
    return WishedCut(LINE, reel, length_m * M, None if from_m is None else from_m * M)


def metres(wishes, *stock):
    return [(c.stretch.from_mm // M, c.stretch.to_mm // M) for c in placed(wishes, list(stock))]


def test_a_named_metre_is_kept_whether_it_is_free_or_not():
    assert metres([wish("R-1", 10, 95)], free("R-1", 0, 100)) == [(95, 105)]


def test_without_a_metre_it_is_the_first_with_room():
    assert metres([wish("R-1", 30)], free("R-1", 0, 20), free("R-1", 40, 80)) == [(40, 70)]


def test_pieces_stand_behind_each_other():
    assert metres([wish("R-1", 30), wish("R-1", 20)], free("R-1", 0, 50)) == [(0, 30), (30, 50)]


def test_a_gap_between_named_pieces_is_used():
    wishes = [wish("R-1", 10, 0), wish("R-1", 10, 40), wish("R-1", 30), wish("R-1", 5)]
    assert metres(wishes, free("R-1", 0, 100)) == [(0, 10), (40, 50), (10, 40), (50, 55)]


def test_a_gap_that_is_too_narrow_is_passed_over():
    wishes = [wish("R-1", 10, 0), wish("R-1", 10, 15), wish("R-1", 10)]
    assert metres(wishes, free("R-1", 0, 100)) == [(0, 10), (15, 25), (25, 35)]


def test_each_reel_is_looked_at_by_itself():
    wishes = [wish("R-1", 30), wish("R-2", 30)]
    assert metres(wishes, free("R-1", 0, 30), free("R-2", 5, 35)) == [(0, 30), (5, 35)]


@pytest.mark.parametrize("stock", [[], [free("R-1", 0, 49)]], ids=["nothing", "too little"])
def test_no_room_is_told_with_the_piece(stock):
    with pytest.raises(NoRoom, match=r"R-1 has no 30.000 m in one length left") as refused:
        placed([wish("R-1", 20), wish("R-1", 30)][-1 if not stock else 0 :], stock)
    assert refused.value.cut == (0 if not stock else 1)


def test_a_piece_of_no_length_is_refused():
    with pytest.raises(Refusal, match="must end after it starts"):
        placed([wish("R-1", 0, 5)], [])
