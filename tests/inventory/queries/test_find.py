"""Codes are read as people type them, and every kind of thing is found by its own."""

import pytest

from inventory.models import Order
from inventory.queries.find import find_thing, heats_of_number
from inventory.services import numbering
from tests.inventory.queries import rope

pytestmark = pytest.mark.django_db


def order():
    return Order.objects.create(
        code=rope.code(numbering.ORDER),
        customer=rope.party("customer"),
        placed_at=rope.MOMENT,
        placed_by=rope.person(),
    )


def a_cut():
    return rope.cut(rope.mill_reel(), 0, 10)


THINGS = {
    numbering.PARTY_MILL: rope.party,
    numbering.PARTY_FITTING_MAKER: lambda: rope.party("fitting_maker"),
    numbering.PARTY_CUSTOMER: lambda: rope.party("customer"),
    numbering.HEAT: rope.heat,
    numbering.MILL_DOCUMENT: rope.mill_document,
    numbering.REEL: rope.mill_reel,
    numbering.CUT_PIECE: a_cut,
    numbering.ORDER: order,
    numbering.FITTING_LOT: rope.fitting_lot,
    numbering.ASSEMBLY: lambda: rope.assembly(a_cut()),
    numbering.DELIVERY: lambda: rope.delivery(a_cut()),
    numbering.HOLD: lambda: rope.hold(heat=rope.heat()),
    numbering.TESTING_MACHINE: rope.machine,
}


@pytest.mark.parametrize(("prefix", "made"), THINGS.items(), ids=THINGS)
def test_each_kind_is_found_by_the_code_it_was_given(prefix, made):
    thing = made()
    assert thing.code.startswith(f"{prefix}-")
    assert find_thing(thing.code) == thing


@pytest.mark.parametrize("typed", ["R-00012", "r-12", "R12", " r 00012 ", "r-0000012"])
def test_a_code_is_read_as_people_type_it(typed):
    reel = rope.mill_reel(code="R-00012")
    assert find_thing(typed) == reel


@pytest.mark.parametrize(
    "typed", ["", "R-", "R-00013", "12", "Q-00012", "BT-00012", "R-00012x", "R-१२", "\uff32-00012"]
)
def test_anything_else_finds_nothing(typed):
    rope.mill_reel(code="R-00012")
    assert find_thing(typed) is None


def test_a_number_too_long_to_be_a_code_finds_nothing():
    assert find_thing("R-" + "9" * 5000) is None


def test_two_mills_may_have_heats_of_one_number():
    heats = [rope.heat(number="4711"), rope.heat(number="4711")]
    rope.heat(number="4712")
    assert heats_of_number(" 4711 ") == heats
