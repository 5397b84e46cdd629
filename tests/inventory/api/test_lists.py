"""Every list of the record costs as many queries for three rows as for one, and comes in pages."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from tests.api import get
from tests.factories import (
    given_assembly,
    given_calibration,
    given_customer,
    given_delivery,
    given_fitting_lot,
    given_heat,
    given_hold,
    given_machine,
    given_mill_document,
    given_order,
    given_order_line,
    given_piece,
    given_reel,
)

_COUNT = iter(range(10**6))


def served_piece():
    """A piece with everything that a piece can have: order, delivery."""
    piece = given_piece(order_line=given_order_line(length_m=10))
    given_delivery(piece)


def ordered_assembly():
    piece = given_piece()
    given_delivery(given_assembly(pieces=[piece], order_line=given_order_line()))


LISTS = {
    "parties": lambda: given_customer(f"Customer {next(_COUNT)}"),
    "heats": given_heat,
    "mill-documents": given_mill_document,
    "reels": lambda: given_reel(mill_document=given_mill_document()),
    "stock": given_reel,
    "pieces": served_piece,
    "orders": given_order,
    "fitting-lots": lambda: given_fitting_lot(heat=given_heat()),
    "assemblies": ordered_assembly,
    "deliveries": lambda: given_delivery(given_piece(), given_assembly()),
    "holds": lambda: given_hold(given_piece()),
    "machines": given_machine,
    "journal": given_reel,
}


def cost(client, path):
    with CaptureQueriesContext(connection) as captured:
        rows = get(client, path)["results"]
    return len(captured), len(rows)


@pytest.mark.parametrize("name", LISTS)
def test_three_rows_cost_what_one_costs(qa, name):
    LISTS[name]()
    queries, few = cost(qa, f"{name}/")
    LISTS[name]()
    LISTS[name]()
    queries_now, more = cost(qa, f"{name}/")
    assert queries_now == queries
    assert 0 < few < more


def test_three_calibrations_cost_what_one_costs(qa):
    machine = given_machine()
    path = f"machines/{machine.code}/calibrations/"
    queries, _ = cost(qa, path)
    given_calibration(machine)
    given_calibration(machine)
    assert cost(qa, path) == (queries, 3)


@pytest.mark.parametrize("name", LISTS)
def test_a_list_comes_in_pages(qa, name):
    for _ in range(3):
        LISTS[name]()
    whole = get(qa, f"{name}/", limit=500)
    page = get(qa, f"{name}/", limit=2, offset=1)
    assert page["results"] == whole["results"][1:3]
    assert page["count"] == whole["count"]
