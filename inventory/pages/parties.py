"""Parties: the list of mills, makers of fittings and customers, and registering one."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from inventory.pages.acting import (
    deed,
    done,
    for_act,
    initial_from,
    perform,
    signed_in,
    typed,
)
from inventory.pages.forms.makers import PartyFilter, PartyForm
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Line, Table, build_table
from inventory.queries import registers
from inventory.rules.roles import Act
from inventory.services.parties import register_party

_SORTS: Sorts = {
    "Code": ("id",),
    "Name": ("name",),
    "What it is to us": ("kind",),
}


@signed_in
def parties(request: HttpRequest) -> HttpResponse:
    """List the parties."""
    filters = PartyFilter(request.GET)
    return show_list(
        request,
        "inventory/parties.html",
        rows=registers.parties(kind=filters.read("kind") or ""),
        table=_table,
        area="parties",
        noun="parties",
        sorts=_SORTS,
        filters=filters,
    )


@for_act(Act.REGISTER_PARTY)
def register(request: HttpRequest) -> HttpResponse:
    """Ask for a firm."""
    form = PartyForm(*typed(request), initial=initial_from(request, "kind"))
    party = perform(request, lambda: register_party(**form.values, **deed(request)), form)
    if party is not None:
        return done(request, f"{party.name} is registered as {party.code}.", "inventory:parties")
    return show(
        request,
        "inventory/register_party.html",
        area="parties",
        form=form,
        submit="Register this party",
        cancel=reverse("inventory:parties"),
    )


def _table(listed: list[Any]) -> Table:
    return build_table(
        columns=("Code", "Name", "What it is to us", "Address"),
        lines=(Line((p.code, p.name, p.get_kind_display(), p.address)) for p in listed),
        folds=True,
    )
