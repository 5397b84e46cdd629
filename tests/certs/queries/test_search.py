"""What the one search box finds, and that a bigger record costs no more queries."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from certs.queries.search import search
from tests.factories import (
    given_customer,
    given_heat,
    given_hold,
    given_mill,
    given_mill_document,
    given_order_line,
    given_piece,
    given_reel,
)

pytestmark = pytest.mark.django_db


def found(text):
    return [(hit.kind, hit.code) for hit in search(text, reads_reports=True).hits]


def surely(text):
    sure = search(text, reads_reports=True).sure
    return sure and (sure.kind, sure.code)


def test_a_code_of_ours_is_sure(tables):
    reel = given_reel()
    assert surely("r1") == ("reel", reel.code)


def test_a_heat_number_of_one_mill_is_sure_of_two_it_is_open(tables):
    heat = given_heat(number="70707")
    assert surely("70707") == ("heat", heat.code)
    other = given_heat(number="70707", mill=given_mill("Other Invented Mill"))
    assert surely("70707") is None
    assert found("70707") == [("heat", heat.code), ("heat", other.code)]


def test_a_part_of_a_number_is_listed_and_never_sure(tables):
    document = given_mill_document(number="MD-77/26")
    assert found("77/2") == [("mill document", document.code)]
    assert surely("77/2") is None
    assert surely("md-77/26") == ("mill document", document.code)


def test_a_customer_brings_what_is_his(tables):
    customer = given_customer("Invented Hoists")
    order = given_order_line(customer=customer).order
    assert found("hoists") == [("customer", customer.code), ("order", order.code)]
    assert surely("Invented Hoists") is None


def test_a_hold_is_found(tables):
    hold = given_hold(given_reel())
    assert surely(hold.code) == ("hold", hold.code)


def test_more_on_record_costs_no_more_queries(tables):
    def queries():
        with CaptureQueriesContext(connection) as caught:
            search("70", reads_reports=True)
        return len(caught)

    given_piece(reel=given_reel(heats=[given_heat(number="70001")]))
    first = queries()
    for number in range(70002, 70020):
        given_heat(number=str(number))
    assert queries() == first
    (heats,) = search("70", reads_reports=True).kinds
    assert heats[0] == "heat"
    assert len(heats[1]) == 12
    assert heats[2]


def test_nothing_is_found_of_what_nobody_recorded(db):
    assert found("P-4711") == []
    assert found("%") == []
