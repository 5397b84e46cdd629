"""Which reels came off one mill reel."""

import pytest

from inventory.queries.families import (
    families_of,
    mill_reel_of,
    mill_reels_of_pieces,
    reels_of_same_rope,
)
from inventory.services.rewind import rewind_reel
from inventory.services.take_back import take_back_piece
from tests.factories import MOMENT, given_delivery, given_person, given_piece, given_reel

pytestmark = pytest.mark.django_db


def rewound(reel, from_m, to_m):
    return rewind_reel(
        reel=reel, from_mm=from_m * 1000, to_mm=to_m * 1000, by=given_person(), at=MOMENT
    )


def taken_back(piece):
    given_delivery(piece)
    return take_back_piece(
        piece=piece, is_turned=False, location="Bay 9", by=given_person(), at=MOMENT
    )


@pytest.fixture
def family():
    """A mill reel, a part wound twice, and a returned piece of that."""
    mill = given_reel()
    first = rewound(mill, 100, 600)
    second = rewound(first, 0, 200)
    back = taken_back(given_piece(reel=second, length_m=50))
    return [mill, first, second, back]


def test_everything_wound_or_returned_is_of_the_family(family):
    other = given_reel()
    found = families_of([family[0].pk, other.pk])
    assert found == {**{reel.pk: family[0].pk for reel in family}, other.pk: other.pk}


def test_a_piece_leads_to_its_mill_reel_however_often_it_was_wound(family):
    pieces = [given_piece(reel=reel, length_m=5) for reel in family]
    found = mill_reels_of_pieces({piece.pk for piece in pieces})
    assert found == {piece.pk: family[0].pk for piece in pieces}


def test_every_reel_leads_to_its_mill_reel_and_all_rope_of_it(family, django_assert_num_queries):
    given_reel()
    for reel in family:
        with django_assert_num_queries(2):
            assert mill_reel_of(reel) == family[0]
        with django_assert_num_queries(2):
            assert set(reels_of_same_rope(reel)) == {one.pk for one in family}


def test_nothing_asked_costs_nothing(django_assert_num_queries):
    with django_assert_num_queries(0):
        assert (families_of([]), mill_reels_of_pieces(set())) == ({}, {})


@pytest.mark.parametrize("count", [1, 3])
def test_the_number_of_queries_does_not_grow(count, django_assert_num_queries):
    pieces = [given_piece() for _ in range(count)]
    with django_assert_num_queries(2):
        roots = mill_reels_of_pieces({piece.pk for piece in pieces})
        families_of(set(roots.values()))
