"""Neighbours on the rope; the general case is in test_against_world."""

import pytest

from inventory.queries.neighbours import neighbours
from inventory.rules.refusal import Refusal
from tests.inventory.queries import rope

pytestmark = pytest.mark.django_db


def found(reel, metre_mm, span_mm):
    near = neighbours(reel, metre_mm=metre_mm, span_mm=span_mm)
    return [(n.piece.code, n.distance_mm) for n in near]


def test_nearest_first_with_the_piece_at_the_point_at_no_distance():
    mill = rope.mill_reel(1000)
    here, after, before = (rope.cut(mill, *mm) for mm in [(400, 500), (520, 600), (0, 350)])
    assert found(mill, 450, 200) == [(here.code, 0), (after.code, 70), (before.code, 100)]


def test_a_piece_that_only_touches_the_span_is_not_within_it():
    mill = rope.mill_reel(1000)
    rope.cut(mill, 0, 100)
    assert found(mill, 200, 100) == []


def test_rope_beside_the_point_is_found_on_the_other_reel():
    mill = rope.mill_reel(1000)
    left, right = rope.rewound(mill, 0, 500), rope.rewound(mill, 500, 1000)
    # The turned end of each reel: metre 500 of the mill is metre 0 of `left`, 500 of `right`.
    last, first = rope.cut(left, 0, 30), rope.cut(right, 470, 500)
    codes = [code for code, distance in found(left, 0, 10) if distance == 0]
    assert {last.code, first.code} <= set(codes)


@pytest.mark.parametrize(
    ("metre_mm", "span_mm", "field"),
    [(-1, 10, "metre_mm"), (1001, 10, "metre_mm"), (0, 0, "span_mm")],
    ids=["before the reel", "past its end", "no span"],
)
def test_what_cannot_be_looked_at_is_refused(metre_mm, span_mm, field):
    with pytest.raises(Refusal) as refused:
        neighbours(rope.mill_reel(1000), metre_mm=metre_mm, span_mm=span_mm)
    assert refused.value.field == field


@pytest.mark.parametrize("number", [1, 3])
def test_it_costs_one_query(number, django_assert_num_queries):
    mill = rope.mill_reel(1000)
    for n in range(number):
        rope.cut(rope.rewound(mill, 10 * n, 10 * n + 10), 0, 5)
    with django_assert_num_queries(1):
        assert len(neighbours(mill, metre_mm=0, span_mm=100)) == 2 * number
