import pytest

from inventory.rules.refusal import Refusal
from inventory.services.orders import CannotPlaceOrder, LineAsked, place_order
from tests.factories import MOMENT, ROPE, given_customer, given_mill
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db


@pytest.fixture
def place(stores_hand):
    def place(*lines, customer=None, reference=" PO 7 "):
        return place_order(
            customer=customer or given_customer(),
            customer_reference=reference,
            lines=lines,
            by=stores_hand,
            at=MOMENT,
        )

    return place


def test_an_order_keeps_its_lines_in_order(place):
    long = LineAsked("8 7x7 1570 B", 100_000, quantity=3, as_one_length=False, document_kind="3.1")
    order = place(LineAsked(ROPE, 50_000, tolerance_minus_mm=5, tolerance_plus_mm=6), long)
    first, second = order.lines.order_by("position")
    assert (order.code, order.customer_reference) == ("O-00001", "PO 7")
    assert (first.position, first.designation, first.length_mm) == (1, ROPE, 50_000)
    assert (first.quantity, first.as_one_length, first.document_kind) == (1, True, "none")
    assert (first.tolerance_minus_mm, first.tolerance_plus_mm) == (5, 6)
    assert (second.designation, second.quantity) == ("8 6x7-WSC 1570 B sZ", 3)
    assert (second.as_one_length, second.document_kind) == (False, "3.1")
    act, subject, detail = last_entry()
    assert (act, subject, detail["customer"]) == ("place_order", "O-00001", "C-00001")
    assert [line["length_mm"] for line in detail["lines"]] == [50_000, 100_000]


UNFIT = {
    "no grade": (LineAsked("12 6x7-FC", 1000), "grade"),
    "no length": (LineAsked(ROPE, 0), "at least 1 mm"),
    "none of it": (LineAsked(ROPE, 1000, quantity=0), "Line 2 asks for none"),
    "a sign": (LineAsked(ROPE, 1000, tolerance_plus_mm=-1), "without a sign"),
    "all tolerance": (LineAsked(ROPE, 1000, tolerance_minus_mm=1000), "less than the length"),
    "unknown together": (LineAsked(ROPE, 1000, together="one_colour"), "Together"),
    "unknown document": (LineAsked(ROPE, 1000, document_kind="9.9"), "Document kind"),
}


@pytest.mark.parametrize(("line", "why"), list(UNFIT.values()), ids=UNFIT)
def test_an_order_with_an_unfit_line_is_refused_whole(place, line, why):
    customer = given_customer()
    with refuses(Refusal, why):
        place(LineAsked(ROPE, 1000), line, customer=customer)


def test_an_order_has_a_line(place):
    customer = given_customer()
    with refuses(CannotPlaceOrder, "at least one line"):
        place(customer=customer)


def test_an_order_is_a_customers(place):
    mill = given_mill()
    with refuses(CannotPlaceOrder, "no customer"):
        place(LineAsked(ROPE, 1000), customer=mill)


def test_a_long_reference_is_refused(place):
    customer = given_customer()
    with refuses(CannotPlaceOrder, "Customer reference"):
        place(LineAsked(ROPE, 1000), customer=customer, reference="r" * 61)
