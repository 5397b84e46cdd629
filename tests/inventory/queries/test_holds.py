"""Holds on things other than rope; how they follow rope is in test_against_world."""

import pytest

from inventory.queries.held import held_assemblies, held_pieces, held_reels
from inventory.queries.holds import (
    held_stretches,
    holds_on_assembly,
    holds_on_heat,
    holds_on_lot,
    holds_on_machine,
    holds_on_piece,
    holds_on_pieces,
    holds_on_reel,
)
from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal
from tests.inventory.queries import rope

pytestmark = pytest.mark.django_db


class Sling:
    """An assembly of one rewound piece and a ferrule, each with a heat of its own."""

    def __init__(self):
        self.heat, self.fitting_heat = rope.heat(), rope.heat()
        self.mill = rope.mill_reel(1000)
        rope.tie(self.mill, self.heat)
        self.wound = rope.rewound(self.mill, 500, 900)
        self.piece = rope.cut(self.wound, 0, 100)
        self.lot = rope.fitting_lot(cast=self.fitting_heat)
        self.assembly = rope.assembly(self.piece, lot=self.lot)


SUBJECTS = {
    "the assembly": lambda s: {"assembly": s.assembly},
    "its piece": lambda s: {"piece": s.piece},
    "its reel": lambda s: {"reel": s.wound},
    "metres of its reel": lambda s: {"reel": s.wound, "from_mm": 99, "to_mm": 120},
    "metres of the mill's reel": lambda s: {"reel": s.mill, "from_mm": 800, "to_mm": 801},
    "the rewound piece": lambda s: {"piece": s.wound.wound_from},
    "the heat of its rope": lambda s: {"heat": s.heat},
    "its fitting lot": lambda s: {"fitting_lot": s.lot},
    "the heat of its fitting": lambda s: {"heat": s.fitting_heat},
}
ELSEWHERE = {
    "other metres of its reel": lambda s: {"reel": s.wound, "from_mm": 100, "to_mm": 120},
    "other metres of the mill's reel": lambda s: {"reel": s.mill, "from_mm": 0, "to_mm": 800},
    "another piece": lambda s: {"piece": rope.cut(s.wound, 200, 300)},
    "another lot": lambda _: {"fitting_lot": rope.fitting_lot()},
    "another heat": lambda _: {"heat": rope.heat()},
    "a machine": lambda _: {"testing_machine": rope.machine()},
}


@pytest.mark.parametrize("subject", SUBJECTS.values(), ids=SUBJECTS)
def test_an_assembly_is_held_by_what_it_is_made_of(subject):
    sling = Sling()
    placed = rope.hold(**subject(sling))
    assert holds_on_assembly(sling.assembly) == [placed]
    assert held_assemblies() == {sling.assembly.pk}


@pytest.mark.parametrize("subject", ELSEWHERE.values(), ids=ELSEWHERE)
def test_an_assembly_is_not_held_by_anything_else(subject):
    sling = Sling()
    rope.hold(**subject(sling))
    assert holds_on_assembly(sling.assembly) == []
    assert held_assemblies() == set()


@pytest.mark.parametrize("subject", SUBJECTS.values(), ids=SUBJECTS)
def test_a_released_hold_holds_nothing(subject):
    sling = Sling()
    rope.release(rope.hold(**subject(sling)))
    found = holds_on_assembly(sling.assembly) + holds_on_piece(sling.piece)
    found += holds_on_reel(sling.wound) + holds_on_reel(sling.mill) + holds_on_lot(sling.lot)
    assert found == []
    assert held_stretches(sling.wound) == []
    assert (held_assemblies(), held_pieces(), held_reels()) == (set(), set(), {})


def test_a_fitting_or_assembly_under_hold_does_not_hold_the_rope():
    sling = Sling()
    rope.hold(fitting_lot=sling.lot)
    rope.hold(assembly=sling.assembly)
    assert holds_on_piece(sling.piece) == []
    assert (held_pieces(), held_reels()) == (set(), {})


def test_a_piece_under_hold_does_not_hold_the_reel_it_was_cut_from():
    sling = Sling()
    rope.hold(piece=sling.piece)
    assert holds_on_reel(sling.wound) == []
    assert (held_pieces(), held_reels()) == ({sling.piece.pk}, {})


def test_a_lot_is_held_by_itself_and_by_its_heat_oldest_first():
    lot = rope.fitting_lot(cast=rope.heat())
    placed = [rope.hold(heat=lot.heat), rope.hold(fitting_lot=lot)]
    rope.hold(heat=rope.heat())
    assert holds_on_lot(lot) == placed


def test_a_lot_of_unknown_steel_is_not_held_by_holds_without_a_heat():
    lot = rope.fitting_lot()
    rope.hold(testing_machine=rope.machine())
    assert holds_on_lot(lot) == []


def test_a_machine_and_a_heat_are_held_by_their_own_holds():
    bench, heat = rope.machine(), rope.heat()
    on_bench, on_heat = rope.hold(testing_machine=bench), rope.hold(heat=heat)
    assert (holds_on_machine(bench), holds_on_heat(heat)) == ([on_bench], [on_heat])
    assert (holds_on_machine(rope.machine()), holds_on_heat(rope.heat())) == ([], [])


def test_two_ways_to_the_same_hold_tell_it_once():
    reel, heat = rope.mill_reel(1000), rope.heat()
    rope.tie(reel, heat, 0, 20)
    rope.tie(reel, heat, 30, 50)
    placed = rope.hold(heat=heat)
    assert holds_on_reel(reel) == [placed]
    assert held_stretches(reel) == [Stretch(0, 20), Stretch(30, 50)]


def test_holds_that_touch_are_told_as_one_stretch():
    reel = rope.mill_reel(1000)
    rope.hold(reel=reel, from_mm=0, to_mm=20)
    rope.hold(reel=reel, from_mm=20, to_mm=50)
    assert held_stretches(reel) == held_reels()[reel.pk] == [Stretch(0, 50)]


def test_a_hold_past_the_end_of_a_reel_holds_none_of_it():
    reel = rope.mill_reel(1000)
    rope.hold(reel=reel, from_mm=1000, to_mm=2000)
    assert (held_stretches(reel), held_reels()) == ([], {})


def test_an_empty_stretch_is_refused():
    with pytest.raises(Refusal):
        holds_on_reel(rope.mill_reel(1000), from_mm=10, to_mm=10)


@pytest.mark.parametrize("number", [1, 3])
def test_holds_cost_two_queries_with_their_subjects(number, django_assert_num_queries):
    sling = Sling()
    for _ in range(number):
        rope.hold(heat=sling.heat)
    with django_assert_num_queries(2):
        found = holds_on_assembly(sling.assembly)
        assert [hold.heat.mill.code for hold in found] == [sling.heat.mill.code] * number


@pytest.mark.parametrize("number", [1, 3])
def test_everything_under_hold_costs_one_query_each(number, django_assert_num_queries):
    for _ in range(number):
        rope.hold(heat=Sling().heat)
    with django_assert_num_queries(3):
        assert len(held_reels()) == 2 * number
        assert len(held_pieces()) == 2 * number
        assert len(held_assemblies()) == number


def test_the_holds_on_many_pieces_are_found_at_once(django_assert_num_queries):
    one, other = rope.mill_reel(1000), rope.mill_reel(1000)
    pieces = [rope.cut(one, 0, 100), rope.cut(one, 100, 200), rope.cut(other, 0, 100)]
    on_reel, on_piece = rope.hold(reel=one), rope.hold(piece=pieces[2])
    rope.hold(reel=other, from_mm=500, to_mm=600)
    with django_assert_num_queries(2):
        assert holds_on_pieces(pieces) == [on_reel, on_piece]


def test_no_pieces_have_no_holds():
    assert holds_on_pieces([]) == []
