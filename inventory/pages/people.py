"""People who sign in: the list and registering one, for administrators."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from inventory.pages.acting import deed, done, for_act, perform, typed
from inventory.pages.forms.people import PersonForm
from inventory.pages.reading import day
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Cell, Line, Table, build_table
from inventory.queries import registers
from inventory.rules.roles import Act
from inventory.services.people import register_person

_SORTS: Sorts = {
    "User name": ("username",),
    "Name": ("last_name", "first_name"),
    "Role": ("role",),
    "Registered": ("date_joined",),
}


@require_safe
@for_act(Act.MANAGE_PEOPLE)
def people(request: HttpRequest) -> HttpResponse:
    """List the people."""
    return show_list(
        request,
        "inventory/people.html",
        rows=registers.people(),
        table=_table,
        area="people",
        noun="people",
        sorts=_SORTS,
    )


@for_act(Act.MANAGE_PEOPLE)
def register(request: HttpRequest) -> HttpResponse:
    """Ask for a person."""
    form = PersonForm(*typed(request))
    person = perform(request, lambda: register_person(**form.values, **deed(request)), form)
    if person is not None:
        return done(request, f"{person.username} is registered.", "inventory:people")
    return show(
        request,
        "inventory/register_person.html",
        area="people",
        form=form,
        submit="Register this person",
        cancel=reverse("inventory:people"),
    )


def _table(listed: list[Any]) -> Table:
    return build_table(
        columns=("User name", "Name", "Role", "Registered", "State"),
        lines=(
            Line(
                (
                    Cell(person.username, href=reverse("inventory:person", args=[person.username])),
                    person.get_full_name(),
                    person.get_role_display(),
                    day(person.date_joined),
                    Cell("may sign in", shape="good")
                    if person.is_active
                    else Cell("closed", shape="past"),
                )
            )
            for person in listed
        ),
        folds=True,
    )
