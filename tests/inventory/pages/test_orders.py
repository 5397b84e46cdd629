import re

import pytest
from django.urls import reverse

from inventory.models import Delivery, Order
from inventory.services.orders import LineAsked
from tests import factories as given

PLACE = "/orders/place/"
DELIVER = "/deliveries/record/"


def typed(**changed):
    return {
        "customer": given.given_customer().code,
        "customer_reference": "PO 7",
        "line-TOTAL_FORMS": "1",
        "line-INITIAL_FORMS": "0",
        "line-0-designation": "12 7x7 1770 B sZ",
        "line-0-length_mm": "40",
        "line-0-quantity": "3",
        "line-0-as_one_length": "on",
        "line-0-tolerance_plus_mm": "100 mm",
        "line-0-document_kind": "3.1",
    } | changed


def page_of(thing):
    return reverse(f"inventory:{type(thing).__name__.lower()}", args=[thing.code])


def test_an_order_is_placed_line_by_line(as_stores):
    answer = as_stores.post(PLACE, typed())
    order = Order.objects.get()
    line = order.lines.get()
    assert answer["Location"] == page_of(order)
    assert (line.designation, line.length_mm, line.quantity) == (given.ROPE, 40_000, 3)
    assert (line.as_one_length, line.tolerance_plus_mm, line.document_kind) == (True, 100, "3.1")


def test_a_line_may_be_asked_to_stay_together(as_stores):
    as_stores.post(PLACE, typed(**{"line-0-together": "one_heat"}))
    order = Order.objects.get()
    assert order.lines.get().together == "one_heat"
    assert "all of the same heats" in as_stores.get(page_of(order)).text


def test_a_line_left_blank_is_no_line(as_stores):
    blank = {"line-TOTAL_FORMS": "2", "line-1-quantity": "1", "line-1-as_one_length": "on"}
    chosen = {"line-1-document_kind": "none", "line-1-together": "not_asked"}
    as_stores.post(PLACE, typed(**blank, **chosen))
    assert Order.objects.get().lines.count() == 1


def test_one_more_line_starts_with_what_is_usual(as_stores):
    unchecked = {key: text for key, text in typed().items() if key != "line-0-as_one_length"}
    text = as_stores.post(PLACE, unchecked | {"again": "more-line"}).text
    assert re.search(r'name="line-1-as_one_length"[^>]*checked', text)
    assert re.search(r'name="line-1-quantity" value="1"', text)
    assert not re.search(r'name="line-0-as_one_length"[^>]*checked', text)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        pytest.param({"line-0-designation": "12 rope"}, "“ROPE”", id="no designation"),
        pytest.param({"line-0-length_mm": "0"}, "at least 1 mm", id="no length"),
        pytest.param({"line-0-quantity": "0"}, "Enter 1 or more", id="none"),
        pytest.param({"customer": "M-00001"}, "is none of the choices", id="a mill as customer"),
    ],
)
def test_an_order_that_asks_for_nothing_is_refused(changed, words, as_stores):
    given.given_mill()
    answer = as_stores.post(PLACE, typed(customer_reference="kept as typed", **changed))
    assert words in answer.text
    assert "kept as typed" in answer.text
    assert not Order.objects.exists()


def test_an_order_offers_the_reels_that_can_give_the_length(as_stores):
    reel = given.given_reel(length_m=100)
    text = as_stores.get(page_of(given.given_order())).text
    assert f"Cut from {reel.code}" in text


def test_a_length_that_no_reel_can_give_is_said_so_with_the_nearest(as_stores):
    reel = given.given_reel(length_m=100)
    text = as_stores.get(page_of(given.given_order_line(length_m=120).order)).text
    assert (
        f"No reel can give 120.000 m in one length. The nearest is 100.000 m, from reel {reel.code}"
        in text
    )


def test_an_order_for_a_rope_that_is_not_there_is_said_so(as_stores):
    text = as_stores.get(page_of(given.given_order())).text
    assert f"Nothing of {given.ROPE} is on any reel" in text


def test_a_line_in_any_lengths_is_offered_what_there_is(as_stores):
    reel = given.given_reel(length_m=30)
    line = given.given_order_line(length_m=100, as_one_length=False)
    text = as_stores.get(page_of(line.order)).text
    assert f"Cut from {reel.code}" in text


def test_a_line_that_is_served_asks_for_no_more(as_stores):
    line = given.given_order_line(length_m=10)
    given.given_piece(length_m=10, order_line=line)
    text = as_stores.get(page_of(line.order)).text
    assert "all of it is cut" in text
    assert "1 of 1" in text


def test_what_is_ready_for_an_order_is_suggested_for_delivery(as_stores):
    reel, line = given.given_reel(), given.given_order_line(length_m=10, quantity=3)
    ready, held, gone = (
        given.given_piece(reel=reel, length_m=10, order_line=line) for _ in range(3)
    )
    given.given_hold(held)
    given.given_delivery(gone, order=line.order)
    text = as_stores.get(f"{DELIVER}?order={line.order.code}").text
    assert ready.code in text
    assert held.code not in text
    assert gone.code not in text


def test_pieces_and_assemblies_are_delivered_by_their_codes(as_stores):
    piece, assembly = given.given_piece(), given.given_assembly()
    asked = {
        "customer": given.given_customer().code,
        "pieces": piece.code.lower(),
        "assemblies": assembly.code,
    }
    answer = as_stores.post(DELIVER, asked)
    delivery = Delivery.objects.get()
    assert answer["Location"] == page_of(delivery)
    assert {item.piece or item.assembly for item in delivery.items.all()} == {piece, assembly}


@pytest.mark.parametrize(
    ("pieces", "words"),
    [
        pytest.param("P-00099", "no cut piece", id="no such piece"),
        pytest.param("R-00001", "no cut piece", id="a reel"),
        pytest.param("", "at least one piece", id="nothing"),
    ],
)
def test_what_cannot_be_delivered_is_refused(pieces, words, as_stores):
    given.given_reel()
    asked = {"customer": given.given_customer().code, "pieces": pieces, "note": "kept as typed"}
    answer = as_stores.post(DELIVER, asked)
    assert words in answer.text
    assert "kept as typed" in answer.text


def test_nothing_is_delivered_under_hold(as_stores):
    piece = given.given_piece()
    given.given_hold(piece.reel)
    asked = {"customer": given.given_customer().code, "pieces": piece.code}
    assert "under hold" in as_stores.post(DELIVER, asked).text
    assert not Delivery.objects.exists()


def test_an_order_shows_what_was_cut_and_built_for_it(as_auditor):
    line = given.given_order(
        LineAsked(designation=given.ROPE, length_mm=6000, quantity=2)
    ).lines.get()
    piece = given.given_piece(length_m=6, order_line=line)
    assembly = given.given_assembly(pieces=[piece], order_line=line)
    text = as_auditor.get(page_of(line.order)).text
    assert piece.code in text
    assert assembly.code in text
