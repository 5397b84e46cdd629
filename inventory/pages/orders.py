"""Orders: the list, one order with what was cut for it and what could be, and placing one."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from inventory.models import Order
from inventory.pages.acting import (
    deed,
    done,
    for_act,
    found,
    initial_from,
    perform,
    signed_in,
    typed,
)
from inventory.pages.assemblies_table import table_of_assemblies
from inventory.pages.facts import Fact, told
from inventory.pages.forms.makers import CustomerFilter
from inventory.pages.forms.orders import LineRows, OrderForm
from inventory.pages.links import cell_of
from inventory.pages.order_lines import asked_lines
from inventory.pages.pieces_table import table_of_pieces
from inventory.pages.reading import moment
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Column, Line, Table, build_table
from inventory.queries import registers
from inventory.queries.held import held_pieces
from inventory.queries.things import order_of_code
from inventory.rules.roles import Act
from inventory.services.orders import LineAsked, place_order

_SORTS: Sorts = {
    "Order": ("id",),
    "Customer": ("customer__name",),
    "Reference": ("customer_reference",),
    "Placed": ("placed_at",),
}


@signed_in
def orders(request: HttpRequest) -> HttpResponse:
    """List the orders."""
    filters = CustomerFilter(request.GET)
    return show_list(
        request,
        "inventory/orders.html",
        rows=registers.orders(customer=filters.read("customer")),
        table=_table,
        area="orders",
        noun="orders",
        sorts=_SORTS,
        filters=filters,
    )


@signed_in
def order(request: HttpRequest, code: str) -> HttpResponse:
    """Show an order."""
    shown = found(order_of_code(code))
    pieces = list(registers.pieces_of_order(shown))
    assemblies = list(registers.assemblies_of_order(shown))
    lines = asked_lines(shown, pieces)
    return show(
        request,
        "inventory/order.html",
        area="orders",
        order=shown,
        facts=_facts(shown),
        lines=lines,
        is_served=all(line.is_served for line in lines),
        pieces=table_of_pieces(pieces, held=held_pieces()) if pieces else None,
        assemblies=table_of_assemblies(assemblies) if assemblies else None,
    )


@for_act(Act.PLACE_ORDER)
def place(request: HttpRequest) -> HttpResponse:
    """Ask for an order, line by line."""
    form = OrderForm(*typed(request), initial=initial_from(request, "customer"))
    lines = LineRows(typed(request)[0], prefix="line")
    placed = perform(
        request,
        lambda: place_order(
            **form.values, lines=[LineAsked(**row) for row in lines.filled], **deed(request)
        ),
        form,
        lines,
    )
    if placed is not None:
        return done(request, f"Order {placed.code} is placed.", "inventory:order", placed.code)
    return show(
        request,
        "inventory/place_order.html",
        area="orders",
        form=form,
        rows=lines,
        cancel=reverse("inventory:orders"),
    )


def _table(listed: list[Any]) -> Table:
    return build_table(
        columns=("Order", "Customer", "Reference", Column("Lines", is_number=True), "Placed"),
        lines=(
            Line(
                (
                    cell_of(o),
                    o.customer.name,
                    o.customer_reference,
                    str(o.line_count),
                    moment(o.placed_at),
                )
            )
            for o in listed
        ),
        folds=True,
    )


def _facts(order: Order) -> list[Fact]:
    return told(
        Fact("Customer", order.customer.name, note=order.customer.code),
        Fact("Customer's reference", order.customer_reference),
        Fact("Placed", moment(order.placed_at), note=f"by {order.placed_by}"),
    )
