"""Forward traces to assemblies, deliveries and customers, and their cost."""

import pytest
from django.db.models.expressions import RawSQL

from inventory.models import AssemblyPiece, CutPiece
from inventory.queries.trace_forward import (
    forward,
    forward_from_assembly,
    forward_from_fitting_lot,
    forward_from_heat,
    forward_from_piece,
    forward_from_reel,
    forward_sql,
)
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from tests.inventory.queries import rope

pytestmark = pytest.mark.django_db


@pytest.fixture
def story():
    """A reel: 0..100 sold loose, 100..200 built in and sold, 500..900 turned to another reel."""
    return Story()


class Story:
    def __init__(self):
        self.heat = rope.heat()
        self.mill = rope.mill_reel(1000)
        rope.tie(self.mill, self.heat)
        self.loose = rope.cut(self.mill, 0, 100)
        self.leg = rope.cut(self.mill, 100, 200)
        self.wound = rope.rewound(self.mill, 500, 900)
        self.late = rope.cut(self.wound, 0, 50, "sample")
        self.lot = rope.fitting_lot()
        self.sling = rope.assembly(self.leg, lot=self.lot)
        self.first = rope.delivery(self.loose)
        self.second = rope.delivery(self.sling, customer=rope.party("customer"))


def codes(things):
    return [thing.code for thing in things]


def joinable(ids):
    return RawSQL(ids.sql, ids.params)  # noqa: S611 -- built of constants, values bound


def test_a_heat_reaches_everything_made_of_its_rope(story):
    found = forward_from_heat(story.heat)
    rewind = story.wound.wound_from
    assert codes(found.pieces) == codes([story.loose, story.leg, rewind, story.late])
    assert codes(found.reels) == codes([story.mill, story.wound])
    assert codes(found.assemblies) == [story.sling.code]
    assert codes(found.deliveries) == codes([story.first, story.second])
    assert codes(found.customers) == codes([story.first.customer, story.second.customer])


def test_a_piece_is_told_with_where_it_was_and_where_it_went(story):
    late = forward_from_heat(story.heat).pieces[-1]
    assert (late.purpose, late.depth, late.through) == ("sample", 1, "rope")
    assert (late.reel_code, late.from_mm, late.to_mm) == (story.wound.code, 0, 50)
    assert (late.asked_reel_code, late.asked_from_mm, late.asked_to_mm) == (
        story.mill.code,
        850,
        900,
    )
    assert (late.assembly_id, late.delivery_id, late.customer_id) == (None, None, None)


def test_a_piece_in_an_assembly_went_where_the_assembly_went(story):
    leg = forward(reel_id=story.mill.pk, from_mm=100, to_mm=101).pieces[0]
    assert leg.assembly_code == story.sling.code
    assert leg.delivery_code == story.second.code
    assert leg.customer_code == story.second.customer.code


def test_a_delivery_is_told_with_its_moment(story):
    assert [d.delivered_at for d in forward_from_piece(story.loose).deliveries] == [rope.MOMENT]


def test_a_stretch_reaches_the_pieces_that_hold_it_and_no_others(story):
    found = forward_from_reel(story.mill, from_mm=150, to_mm=860)
    assert codes(found.pieces) == codes([story.leg, story.wound.wound_from, story.late])
    assert found.pieces[-1].touched == (Stretch(850, 860),)
    assert [(r.code, r.from_mm, r.to_mm) for r in found.reels] == [
        (story.mill.code, 150, 860),
        (story.wound.code, 40, 400),
    ]


def test_neighbouring_metres_reach_nothing(story):
    found = forward_from_reel(story.mill, from_mm=200, to_mm=500)
    assert (found.pieces, codes(found.reels)) == ((), [story.mill.code])


def test_metres_past_the_end_of_the_reel_reach_nothing(story):
    found = forward_from_reel(story.mill, from_mm=1000, to_mm=1001)
    assert (found.pieces, found.reels) == ((), ())


def test_an_empty_stretch_is_refused(story):
    with pytest.raises(Refusal):
        forward_from_reel(story.mill, from_mm=10, to_mm=10)


def test_two_stretches_of_one_heat_tell_a_piece_once():
    mill, heat = rope.mill_reel(1000), rope.heat()
    rope.tie(mill, heat, 0, 20)
    rope.tie(mill, heat, 40, 60)
    rope.cut(mill, 10, 50)
    [piece] = forward_from_heat(heat).pieces
    assert piece.touched == (Stretch(10, 20), Stretch(40, 50))


def test_a_rewind_piece_does_not_give_its_old_reel(story):
    found = forward_from_piece(story.wound.wound_from)
    assert codes(found.reels) == [story.wound.code]
    assert codes(found.pieces) == codes([story.wound.wound_from, story.late])
    assert [p.through for p in found.pieces] == ["piece", "piece"]


def test_a_reversed_piece_gives_nothing_even_when_its_metres_were_cut_anew():
    mill = rope.mill_reel(1000)
    wrong = rope.cut(mill, 0, 100)
    rope.reverse(wrong)
    rope.cut(mill, 0, 100)
    assert forward_from_piece(wrong).pieces == ()


def test_a_returned_piece_was_delivered_and_is_a_reel_again(story):
    back = rope.wind(story.loose, is_turned=True, from_mm=20, to_mm=60)
    found = forward_from_piece(story.loose)
    assert found.pieces[0].wound_reel_code == back.code
    assert found.pieces[0].delivery_code == story.first.code
    assert [(r.code, r.origin) for r in found.reels] == [(back.code, "return")]


def test_a_fitting_lot_reaches_its_assemblies_and_where_they_went(story):
    found = forward_from_fitting_lot(story.lot)
    assert codes(found.assemblies) == [story.sling.code]
    assert codes(found.customers) == [story.second.customer.code]
    assert [(p.code, p.through) for p in found.pieces] == [(story.leg.code, "fitting")]
    assert found.reels == ()


def test_a_heat_of_fittings_reaches_the_lots_and_assemblies():
    heat = rope.heat()
    lot = rope.fitting_lot(cast=heat)
    piece = rope.cut(rope.mill_reel(1000), 0, 100)
    built = rope.assembly(piece, lot=lot)
    found = forward_from_heat(heat)
    assert found.fitting_lots == (lot,)
    assert (codes(found.assemblies), found.reels) == ([built.code], ())


def test_a_heat_in_rope_and_fitting_of_one_piece_is_told_by_the_rope():
    heat, mill = rope.heat(), rope.mill_reel(1000)
    rope.tie(mill, heat, 0, 30)
    piece = rope.cut(mill, 10, 100)
    rope.assembly(piece, lot=rope.fitting_lot(cast=heat))
    [found] = forward_from_heat(heat).pieces
    assert (found.through, found.touched) == ("rope", (Stretch(10, 30),))


def test_an_assembly_reaches_its_delivery(story):
    found = forward_from_assembly(story.sling)
    assert codes(found.pieces) == [story.leg.code]
    assert codes(found.deliveries) == [story.second.code]


@pytest.mark.parametrize("source", ["heat", "mill", "loose", "lot", "sling"])
def test_the_sql_for_joining_names_the_same_pieces(source, story):
    whole = {
        "heat": forward_from_heat,
        "mill": forward_from_reel,
        "loose": forward_from_piece,
        "lot": forward_from_fitting_lot,
        "sling": forward_from_assembly,
    }
    thing = getattr(story, source)
    ids = forward_sql(thing)
    joined = CutPiece.objects.filter(pk__in=joinable(ids))
    assert {p.pk for p in joined} == {p.piece_id for p in whole[source](thing).pieces}


def test_the_sql_for_joining_takes_a_stretch(story):
    ids = forward_sql(story.mill, from_mm=150, to_mm=160)
    ties = AssemblyPiece.objects.filter(piece_id__in=joinable(ids))
    assert [tie.assembly for tie in ties] == [story.sling]


@pytest.mark.parametrize("more", [0, 2])
def test_a_heat_costs_two_queries_however_much_was_made_of_it(
    more, story, django_assert_num_queries
):
    for n in range(more):
        wound = rope.rewound(story.mill, 300 + 10 * n, 310 + 10 * n)
        rope.delivery(rope.cut(wound, 0, 5))
    with django_assert_num_queries(2):
        assert len(forward_from_heat(story.heat).customers) == 2 + more


def test_everything_else_costs_one_query(story, django_assert_num_queries):
    with django_assert_num_queries(4):
        forward_from_reel(story.mill)
        forward_from_piece(story.loose)
        forward_from_fitting_lot(story.lot)
        forward_from_assembly(story.sling)
