"""Decides what every signed-in page is told besides its own facts: area, and what one may do."""

from collections.abc import Callable, Sequence
from typing import Any

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from inventory.pages.acting import person_of
from inventory.pages.table import Table
from inventory.rules.roles import Act, Role, may

ROWS_PER_PAGE = 50


def show(request: HttpRequest, template: str, *, area: str, **context: object) -> HttpResponse:
    """Render a page; `allowed` has the values of the acts that the reader may do."""
    role = Role(person_of(request).role)
    allowed = {act.value for act in Act if may(role, act)}
    return render(request, template, {"area": area, "allowed": allowed, **context})


def show_list(  # noqa: PLR0913 -- a list is told all its parts, each by name
    request: HttpRequest,
    template: str,
    *,
    rows: QuerySet[Any] | Sequence[Any],
    table: Callable[[list[Any]], Table],
    area: str,
    noun: str,
    filters: Form | None = None,
    **context: object,
) -> HttpResponse:
    """Render one page of a list.

    Args:
        rows: everything listed, in a stable order; only the rows of one page are fetched.
        table: makes the table of the rows of this page.
        noun: what is listed, plural.
        filters: a form read from the address, if the list can be narrowed.
    """
    page = Paginator(rows, ROWS_PER_PAGE).get_page(request.GET.get("page"))
    return show(
        request,
        template,
        area=area,
        page=page,
        table=table(list(page.object_list)),
        noun=noun,
        filters=filters,
        is_narrowed=filters is not None and any(filters.data.get(name) for name in filters.fields),
        query=rest_of_query(request),
        **context,
    )


def rest_of_query(request: HttpRequest) -> str:
    """Return the address's query without the page number, ready for one to be put after it."""
    query = request.GET.copy()
    query.pop("page", None)
    return f"{query.urlencode()}&" if query else ""
