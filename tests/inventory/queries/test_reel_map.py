"""The reel map says of every metre where it went."""

import pytest

from inventory.queries.reel_map import reel_map
from tests.inventory.queries import rope

pytestmark = pytest.mark.django_db


def told(found):
    return [(s.from_mm, s.to_mm, s.kind.value, s.label, s.is_held) for s in found.stretches]


def test_every_metre_is_told_once_in_order():
    reel = rope.mill_reel(1000)
    sample = rope.cut(reel, 900, 950, "sample")
    supply = rope.cut(reel, 100, 300)
    rope.reverse(rope.cut(reel, 400, 500))
    assert told(reel_map(reel)) == [
        (0, 100, "free", "", False),
        (100, 300, "supply", supply.code, False),
        (300, 900, "free", "", False),
        (900, 950, "sample", sample.code, False),
        (950, 1000, "free", "", False),
    ]


def test_metres_under_hold_are_told_on_the_reel_and_off_it():
    reel = rope.mill_reel(1000)
    gone = rope.cut(reel, 0, 300)
    rope.hold(reel=reel, from_mm=250, to_mm=400)
    assert told(reel_map(reel)) == [
        (0, 300, "supply", gone.code, True),
        (300, 400, "held", "", False),
        (400, 1000, "free", "", False),
    ]


def test_a_hold_on_a_piece_is_told_on_that_piece_only():
    reel = rope.mill_reel(1000)
    rope.hold(piece=rope.cut(reel, 0, 500))
    rope.release(rope.hold(piece=rope.cut(reel, 500, 1000)))
    assert [stretch.is_held for stretch in reel_map(reel).stretches] == [True, False]


def test_pieces_carry_their_address_and_what_is_looked_at_is_lit():
    reel = rope.mill_reel(1000)
    piece = rope.cut(reel, 0, 500)
    first, rest = reel_map(reel, lit=[piece.code], href=lambda code: f"/{code}/").stretches
    assert (first.href, first.is_lit) == (f"/{piece.code}/", True)
    assert (rest.href, rest.is_lit) == ("", False)


def test_heats_are_told_in_the_metres_of_a_turned_reel():
    mill, heat = rope.mill_reel(1000), rope.heat(number="H-A")
    rope.tie(mill, heat, 300, 600)
    wound = rope.rewound(mill, 500, 900)
    assert [(h.from_mm, h.to_mm, h.label) for h in reel_map(mill).heats] == [(300, 600, "H-A")]
    assert [(h.from_mm, h.to_mm, h.label) for h in reel_map(wound).heats] == [(300, 400, "H-A")]


@pytest.mark.parametrize("number", [1, 3])
def test_a_map_costs_five_queries(number, django_assert_num_queries):
    reel = rope.mill_reel(1000)
    for n in range(number):
        rope.tie(reel, rope.heat())
        rope.hold(piece=rope.cut(reel, 10 * n, 10 * n + 5))
    with django_assert_num_queries(5):
        assert len(reel_map(reel).heats) == number
