"""Decides what every signed-in page is told besides its own facts: area, and what one may do."""

from collections.abc import Callable
from types import MappingProxyType
from typing import Any

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from inventory.pages.acting import person_of
from inventory.pages.exporting import asked_format, exported
from inventory.pages.sorting import SORT, Sorts, asked_order, in_order, rest_of_query, with_sorts
from inventory.pages.table import Table
from inventory.rules.roles import Act, Role, may

ROWS_PER_PAGE = 50
_BY_NOTHING: Sorts = MappingProxyType({})


def show(request: HttpRequest, template: str, *, area: str, **context: object) -> HttpResponse:
    """Render a page; `allowed` has the values of the acts that the reader may do."""
    role = Role(person_of(request).role)
    allowed = {act.value for act in Act if may(role, act)}
    return render(request, template, {"area": area, "allowed": allowed, **context})


def show_list(  # noqa: PLR0913 -- a list is told all its parts, each by name
    request: HttpRequest,
    template: str,
    *,
    rows: QuerySet[Any],
    table: Callable[[list[Any]], Table],
    area: str,
    noun: str,
    filters: Form | None = None,
    sorts: Sorts = _BY_NOTHING,
    **context: object,
) -> HttpResponse:
    """Render one page of a list, or give all of it as a file where the address asks for one.

    Args:
        rows: everything listed, in a stable order; only the rows of one page are fetched.
        table: makes the table of the rows of this page.
        noun: what is listed, plural.
        filters: a form read from the address, if the list can be narrowed.
        sorts: the heads that it can be sorted by, with the columns of the database behind them.
    """
    asked = asked_order(request, sorts)
    rows = in_order(rows, sorts, asked)
    if asked_format(request):
        return exported(request, rows=rows, table=table, noun=noun)
    page = Paginator(rows, ROWS_PER_PAGE).get_page(request.GET.get("page"))
    unsorted = rest_of_query(request, SORT)
    return show(
        request,
        template,
        area=area,
        page=page,
        table=with_sorts(table(list(page.object_list)), sorts, asked, query=unsorted),
        noun=noun,
        filters=filters,
        is_narrowed=filters is not None and any(filters.data.get(name) for name in filters.fields),
        query=rest_of_query(request),
        order=asked.name if asked else "",
        **context,
    )
