import pytest

from inventory.models import CutPiece, Order
from inventory.queries.cutting_stock import demands_of, stock_for
from inventory.rules.cutting_terms import Together
from inventory.rules.metres import Stretch
from inventory.services.cut import reverse_cut
from inventory.services.orders import LineAsked
from inventory.services.receive import HeatTie
from inventory.services.rewind import rewind_reel
from tests import factories as given
from tests.factories import MOMENT, ROPE

pytestmark = pytest.mark.django_db

M = 1000
OTHER = "16 6x36WS-IWRC 1960 B sZ"


def line_of(length_m=10, **facts):
    return given.given_order(LineAsked(ROPE, length_m * M, **facts)).lines.get()


def demand_of(line):
    (demand,) = demands_of(line.order)
    return demand


class TestWhatIsStillToBeCut:
    def test_is_told_by_line(self):
        order = given.given_order(
            LineAsked(ROPE, 30 * M, quantity=2), LineAsked(OTHER, 5 * M, together="one_heat")
        )
        first, second = demands_of(order)
        assert (first.line, first.designation, first.length_mm) == ("O-00001.1", ROPE, 30 * M)
        assert (first.quantity, first.together) == (2, Together.NOT_ASKED)
        assert (second.line, second.together) == ("O-00001.2", Together.ONE_HEAT)
        assert (second.bound_reel, second.bound_heats) == ("", None)

    def test_is_less_by_what_was_cut(self):
        line = line_of(quantity=3)
        given.given_piece(order_line=line)
        assert demand_of(line).quantity == 2

    def test_is_not_less_by_a_cut_taken_back(self):
        line = line_of(quantity=3)
        wrong = given.given_piece(order_line=line)
        reverse_cut(cut=wrong, reason="wrong", by=given.given_person(), at=MOMENT)
        assert demand_of(line).quantity == 3

    def test_is_nothing_for_a_line_that_is_served(self):
        line = line_of()
        given.given_piece(order_line=line)
        assert demands_of(line.order) == []

    def test_is_the_missing_length_of_a_line_in_any_lengths(self):
        line = line_of(100, quantity=2, as_one_length=False)
        given.given_piece(order_line=line, length_m=130)
        demand = demand_of(line)
        assert (demand.length_mm, demand.quantity, demand.is_one_length) == (70 * M, 1, False)
        given.given_piece(order_line=line, length_m=70)
        assert demands_of(line.order) == []

    def test_is_bound_to_the_reel_of_the_first_pieces(self):
        line, reel = line_of(quantity=3, together="one_reel"), given.given_reel()
        given.given_piece(reel=reel, order_line=line)
        assert demand_of(line).bound_reel == reel.code

    def test_is_bound_to_the_heats_of_the_first_pieces(self):
        heat = given.given_heat()
        line = line_of(quantity=3, together="one_heat")
        for _ in range(2):
            given.given_piece(reel=given.given_reel(heats=[heat]), order_line=line)
        assert demand_of(line).bound_heats == frozenset({heat.pk})

    def test_is_bound_to_no_heats_where_the_first_pieces_differ(self):
        line = line_of(quantity=3, together="one_heat")
        for number in range(2):  # no service would cut the second
            CutPiece.objects.create(
                code=f"P-{number:05d}",
                reel=given.given_reel(),
                from_mm=0,
                to_mm=10 * M,
                purpose="supply",
                order_line=line,
                cut_at=MOMENT,
                cut_by=given.given_person(),
            )
        assert demand_of(line).bound_heats == frozenset()


class TestTheStockForIt:
    def test_is_every_clear_stretch_of_the_rope_the_oldest_reel_first(self):
        one, two = given.given_reel(length_m=100), given.given_reel(length_m=50)
        given.given_reel(designation=OTHER)
        given.given_piece(reel=one, from_m=0, length_m=20)
        given.given_hold(one, from_mm=60 * M, to_mm=70 * M)
        found = [(part.reel, part.stretch, part.received) for part in stock_for([ROPE])]
        assert found == [
            (one.code, Stretch(20 * M, 60 * M), 0),
            (one.code, Stretch(70 * M, 100 * M), 0),
            (two.code, Stretch(0, 50 * M), 1),
        ]

    def test_leaves_out_reels_under_hold_and_reels_that_are_gone(self):
        held, gone = given.given_reel(), given.given_reel(length_m=10)
        given.given_hold(held.heat_ties.get().heat)
        given.given_piece(reel=gone)
        assert stock_for([ROPE]) == []

    def test_tells_the_heats_of_a_stretch_through_a_rewind(self):
        heats = [
            HeatTie(given.given_heat(), 0, 50 * M),
            HeatTie(given.given_heat(), 50 * M, 90 * M),
        ]
        reel = given.given_reel(length_m=90, heats=heats)
        wound = rewind_reel(
            reel=reel, from_mm=60 * M, to_mm=80 * M, by=given.given_person(), at=MOMENT
        )
        found = {(part.reel, part.stretch.from_mm // M): part.heats for part in stock_for([ROPE])}
        second = frozenset({heats[1].heat.pk})
        assert found == {(reel.code, 0): None, (reel.code, 80): second, (wound.code, 0): second}

    def test_is_nothing_when_nothing_is_asked(self):
        assert stock_for([]) == []


@pytest.mark.parametrize("number", [1, 3])
def test_the_cost_does_not_grow_with_the_stock(number, django_assert_num_queries):
    line = line_of(quantity=5, together="one_heat")
    heat = given.given_heat()
    for _ in range(number):
        given.given_piece(reel=given.given_reel(heats=[heat]), order_line=line)
    order = Order.objects.get()
    with django_assert_num_queries(4):
        demands_of(order)
    with django_assert_num_queries(5):
        assert len(stock_for([ROPE])) == number
