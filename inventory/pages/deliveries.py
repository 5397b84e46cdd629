"""Deliveries: the list, one delivery, and recording what left for a customer."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from inventory.models import Delivery, DeliveryItem
from inventory.pages.acting import deed, done, for_act, found, perform, signed_in, typed
from inventory.pages.facts import Fact, told
from inventory.pages.forms.makers import CustomerFilter
from inventory.pages.forms.orders import DeliveryForm
from inventory.pages.links import cell_of, fact_of
from inventory.pages.reading import moment, shown_metres
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Column, Line, Table, build_table
from inventory.queries import registers
from inventory.queries.ready import ready_for
from inventory.queries.things import delivery_of_code, order_of_code
from inventory.rules.roles import Act
from inventory.services.deliver import record_delivery

_SORTS: Sorts = {
    "Delivery": ("id",),
    "Customer": ("customer__name",),
    "Order": ("order_id",),
    "Delivered": ("delivered_at",),
}


@signed_in
def deliveries(request: HttpRequest) -> HttpResponse:
    """List the deliveries."""
    filters = CustomerFilter(request.GET)
    return show_list(
        request,
        "inventory/deliveries.html",
        rows=registers.deliveries(customer=filters.read("customer")),
        table=_table,
        area="orders",
        noun="deliveries",
        sorts=_SORTS,
        filters=filters,
    )


@signed_in
def delivery(request: HttpRequest, code: str) -> HttpResponse:
    """Show a delivery."""
    shown = found(delivery_of_code(code))
    return show(
        request,
        "inventory/delivery.html",
        area="orders",
        delivery=shown,
        facts=_facts(shown),
        items=_items(list(registers.items_of_delivery(shown))),
    )


@for_act(Act.RECORD_DELIVERY)
def deliver(request: HttpRequest) -> HttpResponse:
    """Ask what leaves; for an order, everything that is ready is suggested."""
    form = DeliveryForm(*typed(request), initial=_suggested(request))
    recorded = perform(request, lambda: record_delivery(**form.values, **deed(request)), form)
    if recorded is not None:
        said = f"Delivery {recorded.code} is recorded."
        return done(request, said, "inventory:delivery", recorded.code)
    return show(
        request,
        "inventory/deliver.html",
        area="orders",
        form=form,
        submit="Record the delivery",
        cancel=reverse("inventory:deliveries"),
    )


def _suggested(request: HttpRequest) -> dict[str, Any]:
    order = order_of_code(request.GET.get("order", ""))
    if order is None:
        return {"pieces": "\n".join(request.GET.getlist("piece"))} | {
            "assemblies": "\n".join(request.GET.getlist("assembly"))
        }
    ready = ready_for(order)
    return {
        "customer": order.customer.code,
        "order": order.code,
        "pieces": "\n".join(ready.piece_codes),
        "assemblies": "\n".join(ready.assembly_codes),
    }


def _table(listed: list[Any]) -> Table:
    return build_table(
        columns=("Delivery", "Customer", "Order", Column("Items", is_number=True), "Delivered"),
        lines=(
            Line(
                (
                    cell_of(d),
                    d.customer.name,
                    cell_of(d.order),
                    str(d.item_count),
                    moment(d.delivered_at),
                )
            )
            for d in listed
        ),
        folds=True,
    )


def _facts(delivery: Delivery) -> list[Fact]:
    return told(
        Fact("Customer", delivery.customer.name, note=delivery.customer.code),
        fact_of("Order", delivery.order),
        Fact("Note", delivery.note),
        Fact("Delivered", moment(delivery.delivered_at), note=f"by {delivery.delivered_by}"),
    )


def _items(items: list[DeliveryItem]) -> Table:
    return build_table(
        columns=("Item", "What", Column("Length", is_number=True)),
        lines=(
            Line(
                (cell_of(item.piece), item.piece.reel.designation, _metres(item))
                if item.piece
                else (cell_of(item.assembly), _kind(item), "")
            )
            for item in items
        ),
        folds=True,
    )


def _metres(item: DeliveryItem) -> str:
    return shown_metres(item.piece.length_mm) if item.piece else ""


def _kind(item: DeliveryItem) -> str:
    return item.assembly.get_kind_display() if item.assembly else ""
