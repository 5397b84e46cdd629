"""Backward traces: by hand for a few, and their cost. The rest is in test_against_world."""

import pytest

from inventory.queries.trace_back import (
    back_from_assembly,
    back_from_piece,
    back_from_pieces,
    back_from_reel,
    point_on_piece,
    trace_back,
)
from inventory.rules.refusal import Refusal
from tests.inventory.queries import rope

pytestmark = pytest.mark.django_db


@pytest.fixture
def twice_wound():
    """Metres 400..900 of a mill's reel turned on to a second, of which 100..300 straight on."""
    mill = rope.mill_reel(1000)
    first = rope.rewound(mill, 400, 900)
    second = rope.rewound(first, 100, 300, is_turned=False)
    return mill, first, second


def test_each_reel_is_told_with_its_metres_sign_and_offset(twice_wound):
    mill, first, second = twice_wound
    found = trace_back(reel_id=second.pk, from_mm=50, to_mm=80)
    assert [(a.reel_code, a.from_mm, a.to_mm, a.sign, a.offset_mm) for a in found] == [
        (second.code, 50, 80, 1, 0),
        (first.code, 150, 180, 1, 100),
        (mill.code, 720, 750, -1, 800),
    ]


def test_each_reel_names_the_cut_it_was_wound_from(twice_wound):
    _, first, second = twice_wound
    found = trace_back(reel_id=second.pk, from_mm=0, to_mm=1)
    wound_from = [a.wound_from_code for a in found]
    assert wound_from == [second.wound_from.code, first.wound_from.code, ""]


def test_a_point_of_a_piece_has_its_metre_on_every_reel(twice_wound):
    mill, first, second = twice_wound
    piece = rope.cut(second, 20, 60)
    found = point_on_piece(piece, mm_from_near_end=5)
    assert [(p.reel_code, p.metre_mm) for p in found] == [
        (second.code, 25),
        (first.code, 125),
        (mill.code, 775),
    ]


@pytest.mark.parametrize("mm", [-1, 41], ids=["before the near end", "past the far end"])
def test_a_point_off_the_piece_is_refused(mm, twice_wound):
    piece = rope.cut(twice_wound[2], 20, 60)
    with pytest.raises(Refusal, match="not on piece"):
        point_on_piece(piece, mm_from_near_end=mm)


def test_a_piece_has_the_heats_of_its_own_metres_in_metres_of_the_mill(twice_wound):
    mill, _, second = twice_wound
    whole, near, far = rope.heat(), rope.heat(), rope.heat()
    rope.tie(mill, whole)
    rope.tie(mill, near, 0, 760)
    rope.tie(mill, far, 900, 1000)
    found = back_from_piece(rope.cut(second, 20, 60)).heats
    assert [(h.heat, h.reel_code, h.from_mm, h.to_mm) for h in found] == [
        (whole, mill.code, 740, 780),
        (near, mill.code, 740, 760),
    ]


def test_heats_are_told_along_the_reel():
    mill, far, near = rope.mill_reel(1000), rope.heat(), rope.heat()
    rope.tie(mill, far, 500, 1000)
    rope.tie(mill, near, 0, 500)
    assert [h.heat for h in back_from_reel(mill).heats] == [near, far]


def test_documents_are_those_of_the_mills_reel():
    paper = rope.mill_document()
    mill = rope.mill_reel(1000, mill=paper.mill, mill_document=paper)
    wound = rope.rewound(mill, 0, 500)
    trace = back_from_piece(rope.cut(wound, 0, 10))
    assert trace.mill_documents == (paper,)
    assert trace.mill_reel.reel_code == mill.code


def test_a_reel_is_traced_whole_or_by_stretch(twice_wound):
    mill, _, second = twice_wound
    heat = rope.heat()
    rope.tie(mill, heat, 790, 1000)
    assert [(h.from_mm, h.to_mm) for h in back_from_reel(second).heats] == [(790, 800)]
    assert back_from_reel(second, from_mm=100, to_mm=150).heats == ()


def test_an_assembly_has_the_heats_and_papers_of_rope_and_fittings():
    of_rope, of_fitting = rope.heat(), rope.heat()
    paper, fitting_paper = rope.mill_document(), rope.mill_document()
    mill = rope.mill_reel(1000, mill_document=paper)
    rope.tie(mill, of_rope)
    lot = rope.fitting_lot(cast=of_fitting, document=fitting_paper)
    legs = [rope.cut(mill, 100, 200), rope.cut(mill, 0, 100)]
    trace = back_from_assembly(rope.assembly(*legs, lot=lot))
    assert [piece.piece for piece in trace.pieces] == legs
    assert trace.fitting_lots == (lot,)
    assert trace.heats == (of_rope, of_fitting)
    assert trace.mill_documents == (paper, fitting_paper)


def test_an_assembly_without_known_steel_or_papers_has_none():
    piece = rope.cut(rope.mill_reel(1000), 0, 100)
    trace = back_from_assembly(rope.assembly(piece, lot=rope.fitting_lot()))
    assert (trace.heats, trace.mill_documents) == ((), ())


def test_no_pieces_have_no_traces(django_assert_num_queries):
    with django_assert_num_queries(0):
        assert back_from_pieces([]) == []


@pytest.mark.parametrize("number", [1, 3])
def test_many_pieces_cost_three_queries(number, twice_wound, django_assert_num_queries):
    mill, first, second = twice_wound
    rope.tie(mill, rope.heat())
    pieces = [rope.cut(reel, 0, 10) for reel in (mill, first, second)][:number]
    with django_assert_num_queries(3):
        traces = back_from_pieces(pieces)
        assert all(found.mill.name for trace in traces for found in trace.heats)
    assert [trace.piece for trace in traces] == pieces


@pytest.mark.parametrize("number", [1, 3])
def test_an_assembly_costs_five_queries(number, django_assert_num_queries):
    mill = rope.mill_reel(1000, mill_document=rope.mill_document())
    rope.tie(mill, rope.heat())
    pieces = [rope.cut(mill, 10 * n, 10 * n + 10) for n in range(number)]
    built = rope.assembly(*pieces, lot=rope.fitting_lot(cast=rope.heat()))
    with django_assert_num_queries(5):
        trace = back_from_assembly(built)
        assert all(heat.mill.name for heat in trace.heats)
        assert all(lot.maker.name for lot in trace.fitting_lots)


def test_a_trace_of_rope_costs_one_query(twice_wound, django_assert_num_queries):
    with django_assert_num_queries(1):
        assert len(trace_back(reel_id=twice_wound[2].pk, from_mm=0, to_mm=10)) == 3
