"""Parties: the list, registering one, and the language of a customer's papers."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from inventory.models import Party
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
from inventory.pages.forms.makers import PartyFilter, PartyForm
from inventory.pages.forms.party_language import PartyLanguageForm
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Cell, Line, Table, build_table
from inventory.queries import registers
from inventory.rules.paper_language import paper_language
from inventory.rules.roles import Act
from inventory.services.parties import change_party_language, register_party

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


@for_act(Act.CHANGE_PARTY)
def language(request: HttpRequest, code: str) -> HttpResponse:
    """Ask in which language papers are written to a customer."""
    party = found(registers.customer_of(code))
    form = PartyLanguageForm(*typed(request), initial={"language": party.language})
    changed = perform(
        request, lambda: change_party_language(party=party, **form.values, **deed(request)), form
    )
    if changed is not None:
        said = f"Papers to {changed.name} are written in {_language_of(changed)} from now on."
        return done(request, said, "inventory:parties")
    return show(
        request,
        "inventory/party_language.html",
        area="parties",
        form=form,
        party=party,
        submit="Write in this language",
        cancel=reverse("inventory:parties"),
    )


def _papers_in(party: Party) -> Cell:
    """Name the language of papers, which customers alone are sent."""
    if party.kind != Party.Kind.CUSTOMER:
        return Cell("")
    return Cell(_language_of(party), href=reverse("inventory:party_language", args=[party.code]))


def _language_of(party: Party) -> str:
    return paper_language(party.language).own_name


def _table(listed: list[Any]) -> Table:
    return build_table(
        columns=("Code", "Name", "What it is to us", "Address", "Papers in"),
        lines=(
            Line((p.code, p.name, p.get_kind_display(), p.address, _papers_in(p))) for p in listed
        ),
        folds=True,
    )
