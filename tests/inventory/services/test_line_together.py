"""A line that is to come from one reel, or of the same heats, is kept to that, cut by cut."""

import pytest

from inventory.services.cut import CannotCut, cut_piece, reverse_cut
from inventory.services.orders import LineAsked
from inventory.services.receive import HeatTie
from inventory.services.rewind import rewind_reel
from tests.factories import (
    MOMENT,
    ROPE,
    given_heat,
    given_order,
    given_person,
    given_reel,
)
from tests.inventory.services.record import refuses

pytestmark = pytest.mark.django_db

M = 1000


@pytest.fixture
def cut(stores_hand):
    def cut(reel, line, from_m=None):
        return cut_piece(
            reel=reel,
            from_mm=None if from_m is None else from_m * M,
            length_mm=10 * M,
            purpose="supply",
            order_line=line,
            by=stores_hand,
            at=MOMENT,
        )

    return cut


def line_of(together):
    asked = LineAsked(designation=ROPE, length_mm=10 * M, quantity=3, together=together)
    return given_order(asked).lines.get()


def test_a_line_of_one_reel_stays_on_it(cut):
    line, one, two = line_of("one_reel"), given_reel(), given_reel()
    first = cut(one, line)
    cut(one, line)
    with refuses(CannotCut, f"from one reel, and piece {first.code} was cut from R-00001"):
        cut(two, line)


def test_a_cut_taken_back_binds_no_longer(cut):
    line, one, two = line_of("one_reel"), given_reel(), given_reel()
    reverse_cut(cut=cut(one, line), reason="wrong reel", by=given_person(), at=MOMENT)
    assert cut(two, line).reel == two


def test_a_line_of_one_heat_may_go_on_from_another_reel_of_it(cut):
    heat = given_heat()
    line, one, two = line_of("one_heat"), given_reel(heats=[heat]), given_reel(heats=[heat])
    cut(one, line)
    assert cut(two, line).reel == two


def test_a_line_of_one_heat_may_go_on_from_a_reel_wound_from_it(cut):
    reel, line = given_reel(length_m=100), line_of("one_heat")
    wound = rewind_reel(reel=reel, from_mm=50 * M, to_mm=90 * M, by=given_person(), at=MOMENT)
    cut(reel, line)
    assert cut(wound, line).reel == wound


def test_a_line_of_one_heat_is_not_mixed(cut):
    line, one, two = line_of("one_heat"), given_reel(), given_reel()
    first = cut(one, line)
    with refuses(CannotCut, f"of others than piece {first.code}"):
        cut(two, line)


def test_one_heat_of_two_is_not_the_same_heats(cut):
    heats = [given_heat(), given_heat()]
    line, one, two = line_of("one_heat"), given_reel(heats=heats), given_reel(heats=heats[:1])
    cut(one, line)
    with refuses(CannotCut, "of others than piece"):
        cut(two, line)


def test_where_heats_change_along_a_piece_nothing_is_said_of_it(cut):
    heats = [HeatTie(given_heat(), 0, 45 * M), HeatTie(given_heat(), 45 * M, 100 * M)]
    reel, line = given_reel(length_m=100, heats=heats), line_of("one_heat")
    with refuses(CannotCut, "40.000 m to 50.000 m of reel R-00001 change along it"):
        cut(reel, line, from_m=40)
    cut(reel, line, from_m=50)
    with refuses(CannotCut, "of others than piece"):
        cut(reel, line, from_m=0)


def test_other_lines_come_from_wherever_they_fit(cut):
    line = line_of("not_asked")
    assert {cut(given_reel(), line).reel.code for _ in range(3)} == {
        "R-00001", "R-00002", "R-00003",
    }  # fmt: skip
