import pytest

from inventory.services.deliver import CannotDeliver, record_delivery
from tests.factories import (
    MOMENT,
    given_assembly,
    given_customer,
    given_delivery,
    given_hold,
    given_mill,
    given_order_line,
    given_piece,
    given_reel,
    given_sample,
)
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db


@pytest.fixture
def deliver(stores_hand):
    def deliver(*, pieces=(), assemblies=(), customer=None, **facts):
        return record_delivery(
            customer=customer or given_customer(),
            pieces=pieces,
            assemblies=assemblies,
            **facts,
            by=stores_hand,
            at=MOMENT,
        )

    return deliver


def test_pieces_and_assemblies_leave_together(deliver):
    assembly, piece = given_assembly(), given_piece()
    order = given_order_line().order
    made = deliver(pieces=[piece], assemblies=[assembly], order=order, note=" by van ")
    assert (made.code, made.order, made.note) == ("V-00001", order, "by van")
    assert {item.piece or item.assembly for item in made.items.all()} == {piece, assembly}
    told = {"customer": "C-00001", "order": order.code}
    told |= {"pieces": [piece.code], "assemblies": [assembly.code]}
    assert last_entry() == ("record_delivery", "V-00001", told)


def test_a_thing_named_twice_leaves_once(deliver):
    piece = given_piece()
    assert deliver(pieces=[piece, piece]).items.get().piece == piece


def test_something_must_leave(deliver):
    customer = given_customer()
    with refuses(CannotDeliver, "at least one piece"):
        deliver(customer=customer)


def test_goods_leave_for_a_customer(deliver):
    piece = given_piece()
    mill = given_mill()
    with refuses(CannotDeliver, "no customer"):
        deliver(pieces=[piece], customer=mill)


GONE = {
    "a piece that left": (given_delivery, "left with delivery V-00001"),
    "a piece in an assembly": (lambda p: given_assembly(pieces=[p]), "part of assembly"),
    "a held piece": (given_hold, "P-00001 is under hold"),
    "a piece of a held reel": (lambda p: given_hold(p.reel), "P-00001 is under hold"),
}


@pytest.mark.parametrize(("use", "why"), list(GONE.values()), ids=GONE)
def test_a_piece_that_may_not_leave_stays(deliver, use, why):
    piece, other, customer = given_piece(), given_piece(), given_customer()
    use(piece)
    with refuses(CannotDeliver, why):
        deliver(pieces=[other, piece], customer=customer)


def test_a_sample_is_not_delivered(deliver):
    sample, customer = given_sample(), given_customer()
    with refuses(CannotDeliver, "not for supply"):
        deliver(pieces=[sample], customer=customer)


STAYING = {
    "left already": (given_delivery, "left with delivery V-00001 already"),
    "held": (given_hold, "A-00001 is under hold"),
    "of a held reel": (
        lambda a: given_hold(a.piece_ties.get().piece.reel),
        "A-00001 is under hold",
    ),
}


@pytest.mark.parametrize(("use", "why"), list(STAYING.values()), ids=STAYING)
def test_an_assembly_that_may_not_leave_stays(deliver, use, why):
    assembly, customer = given_assembly(), given_customer()
    use(assembly)
    with refuses(CannotDeliver, why):
        deliver(assemblies=[assembly], customer=customer)


def test_another_customers_goods_stay(deliver):
    line = given_order_line(length_m=10)
    other = given_customer("Other Invented Customer")
    piece = given_piece(order_line=line)
    with refuses(CannotDeliver, "of another customer"):
        deliver(pieces=[piece], customer=other)
    with refuses(CannotDeliver, "Order O-00001 is of another customer"):
        deliver(pieces=[piece], customer=other, order=line.order)


def test_another_customers_assembly_stays(deliver):
    assembly = given_assembly(
        pieces=[given_piece(reel=given_reel())], order_line=given_order_line()
    )
    other = given_customer("Other Invented Customer")
    with refuses(CannotDeliver, "A-00001 was built for order O-00001 of another"):
        deliver(assemblies=[assembly], customer=other)


def test_what_was_ordered_leaves_for_who_ordered_it(deliver):
    line = given_order_line(length_m=10)
    piece, assembly = given_piece(order_line=line), given_assembly(order_line=line)
    assert deliver(pieces=[piece], assemblies=[assembly], order=line.order).items.count() == 2


def test_a_long_note_is_refused(deliver):
    piece, customer = given_piece(), given_customer()
    with refuses(CannotDeliver, "Note"):
        deliver(pieces=[piece], customer=customer, note="n" * 201)
