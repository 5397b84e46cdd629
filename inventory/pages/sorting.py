"""Decides how a list is put in order by the head of a column, as the address asks: ?sort=-placed.

A list says which of its heads can be sorted by, and by which columns of the database; whatever
else the address asks is passed over. The order is made by the database and is the same on every
engine: what is empty comes last, and rows alike follow their id.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.core.exceptions import FieldDoesNotExist
from django.db.models import F, Model, QuerySet
from django.db.models.expressions import OrderBy
from django.http import HttpRequest
from django.utils.text import slugify

from inventory.pages.table import Column, Table

# The name of the order in an address.
SORT = "sort"
# What names things in an address besides the list's own filters.
PLACE = ("page", "format")

# The word over a column, and the columns of the database behind it.
Sorts = Mapping[str, Sequence[str]]


@dataclass(frozen=True, slots=True)
class AskedOrder:
    """The head that a list is sorted by, and which way."""

    word: str
    is_falling: bool

    @property
    def name(self) -> str:
        """What the address says of it."""
        return f"{'-' if self.is_falling else ''}{slugify(self.word)}"


def asked_order(request: HttpRequest, sorts: Sorts) -> AskedOrder | None:
    """Return the order that the address asks for; None for the list's own."""
    text = request.GET.get(SORT, "")
    named = {slugify(word): word for word in sorts}
    word = named.get(text.removeprefix("-"))
    return AskedOrder(word, text.startswith("-")) if word else None


def in_order(rows: QuerySet[Any], sorts: Sorts, asked: AskedOrder | None) -> QuerySet[Any]:
    """Return the rows in the order asked for, or in their own."""
    if asked is None:
        return rows
    columns = [*sorts[asked.word], "pk"]
    return rows.order_by(*(_order(rows.model, name, asked) for name in columns))


def with_sorts(table: Table, sorts: Sorts, asked: AskedOrder | None, *, query: str) -> Table:
    """Return the table with heads that sort it.

    Args:
        query: what the address says besides the order, "a=b&" or empty.

    Raises:
        ValueError: a list names a head that its table does not have.
    """
    words = {column.word for column in table.columns}
    if not set(sorts) <= words:
        message = f"{sorted(set(sorts) - words)} are no heads of {sorted(words)}."
        raise ValueError(message)
    heads = tuple(_head(column, sorts, asked, query=query) for column in table.columns)
    return replace(table, columns=heads)


def rest_of_query(request: HttpRequest, *without: str) -> str:
    """Return the address's query without page and format, ready for more to be put after it."""
    query = request.GET.copy()
    for name in (*PLACE, *without):
        query.pop(name, None)
    return f"{query.urlencode()}&" if query else ""


def _head(column: Column, sorts: Sorts, asked: AskedOrder | None, *, query: str) -> Column:
    if column.word not in sorts:
        return column
    is_sorted = asked is not None and asked.word == column.word
    is_falling = asked is not None and asked.is_falling
    turned = AskedOrder(column.word, is_falling=is_sorted and not is_falling)
    way = ("descending" if is_falling else "ascending") if is_sorted else ""
    return replace(column, href=f"?{query}{SORT}={turned.name}", sorted=way)


def _order(model: type[Model], name: str, asked: AskedOrder) -> OrderBy:
    last = True if _may_be_empty(model, name) else None
    return OrderBy(F(name), descending=asked.is_falling, nulls_last=last)


def _may_be_empty(model: type[Model], name: str) -> bool:
    """Tell whether a column may hold nothing; engines differ in where they put it."""
    for part in name.split("__"):
        try:
            field: Any = model._meta.pk if part == "pk" else model._meta.get_field(part)
        except FieldDoesNotExist:  # it was computed for the list
            return True
        if field.null:
            return True
        model = field.related_model or model
    return False
