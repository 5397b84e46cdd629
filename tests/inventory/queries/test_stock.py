"""What is left, what is clear, and which reel can give a length."""

import pytest

from inventory.queries.stock import (
    LengthOffer,
    clear_on_reel,
    free_on_reel,
    reel_balance,
    reels_for_length,
    reels_in_stock,
)
from inventory.rules.metres import Balance, Stretch
from tests.inventory.queries import rope

pytestmark = pytest.mark.django_db


def reels(entries):
    return [entry.reel for entry in entries]


def test_a_reel_is_in_stock_while_something_is_left():
    fresh, used, gone = (rope.mill_reel(1000) for _ in range(3))
    rope.cut(used, 0, 999)
    rope.cut(gone, 0, 1000)
    assert reels(reels_in_stock()) == [fresh, used]


def test_a_reversed_cut_leaves_its_metres_on_the_reel():
    reel = rope.mill_reel(1000)
    rope.reverse(rope.cut(reel, 0, 1000))
    [stock] = reels_in_stock()
    assert (stock.remaining_mm, stock.longest_free_mm) == (1000, 1000)


@pytest.mark.parametrize(
    "asked",
    [
        {"designation": "16 6x19M-WSC 1960 U sZ"},
        {"construction": "6x19M"},
        {"diameter_nm": 16_000_000},
        {"location": "rack 4"},
        {"construction": "6x19M", "location": "rack 4"},
    ],
    ids=["designation", "construction", "diameter", "location", "two at once"],
)
def test_stock_is_narrowed(asked):
    rope.mill_reel(1000, location="rack 1")
    wanted = rope.mill_reel(
        1000,
        designation="16 6x19M-WSC 1960 U sZ",
        construction="6x19M",
        diameter_nm=16_000_000,
        location="rack 4",
    )
    assert reels(reels_in_stock(**asked)) == [wanted]


def test_what_is_left_is_told_with_its_longest_and_what_is_clear():
    reel = rope.mill_reel(1000)
    rope.cut(reel, 300, 400)
    rope.hold(reel=reel, from_mm=500, to_mm=520)
    [stock] = reels_in_stock()
    assert (stock.remaining_mm, stock.longest_free_mm) == (900, 600)
    assert (stock.longest_clear_mm, stock.is_held) == (480, True)
    assert free_on_reel(reel) == [Stretch(0, 300), Stretch(400, 1000)]
    assert clear_on_reel(reel) == [Stretch(0, 300), Stretch(400, 500), Stretch(520, 1000)]


def test_a_hold_on_metres_that_are_gone_does_not_mark_what_is_left():
    reel = rope.mill_reel(1000)
    rope.cut(reel, 0, 100)
    rope.hold(reel=reel, from_mm=0, to_mm=100)
    assert not reels_in_stock()[0].is_held


def test_the_balance_tells_each_purpose_and_adds_up():
    reel = rope.mill_reel(1000)
    for from_mm, to_mm, purpose in [
        (0, 100, "supply"),
        (100, 120, "sample"),
        (200, 500, "rewind"),
        (990, 1000, "scrap"),
    ]:
        rope.cut(reel, from_mm, to_mm, purpose)
    rope.reverse(rope.cut(reel, 120, 130))
    assert reel_balance(reel) == Balance(1000, 100, 20, 300, 10, 570)


def test_the_reel_with_the_tightest_fit_is_offered_first():
    roomy, tight, short = rope.mill_reel(1000), rope.mill_reel(600), rope.mill_reel(400)
    rope.mill_reel(5000, designation="16 6x7-WSC 1770 B sZ")
    offer = reels_for_length(designation=rope.ROPE, length_mm=500)
    assert reels(offer.reels) == [tight, roomy]
    assert offer.longest.reel == roomy
    assert short not in reels(offer.reels)


def test_a_long_reel_with_a_short_end_that_fits_is_the_tightest():
    rope.mill_reel(600)
    long = rope.mill_reel(5000)
    rope.cut(long, 510, 520)
    offer = reels_for_length(designation=rope.ROPE, length_mm=500)
    assert offer.reels[0].reel == long


def test_when_no_reel_can_give_it_the_longest_is_told():
    rope.mill_reel(700)
    nearest = rope.mill_reel(800)
    offer = reels_for_length(designation=rope.ROPE, length_mm=801)
    assert (offer.reels, offer.longest.reel) == ((), nearest)
    assert offer.longest.longest_clear_mm == 800


def test_metres_under_hold_are_not_offered():
    held, clear = rope.mill_reel(1000), rope.mill_reel(600)
    rope.hold(reel=held)
    offer = reels_for_length(designation=rope.ROPE, length_mm=500)
    assert (reels(offer.reels), offer.longest.reel) == ([clear], clear)


def test_when_nothing_is_clear_nothing_is_offered():
    rope.hold(reel=rope.mill_reel(1000))
    offer = reels_for_length(designation=rope.ROPE, length_mm=1)
    assert offer == LengthOffer(reels=(), longest=None)


@pytest.mark.parametrize("number", [1, 3])
def test_stock_costs_three_queries(number, django_assert_num_queries):
    for _ in range(number):
        rope.cut(rope.mill_reel(1000), 0, 10)
    with django_assert_num_queries(3):
        assert [stock.reel.mill.kind for stock in reels_in_stock()] == ["mill"] * number
    with django_assert_num_queries(3):
        assert len(reels_for_length(designation=rope.ROPE, length_mm=5).reels) == number
