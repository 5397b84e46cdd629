"""Locks rows in one order for all services, so that two of them never wait for each other.

Reels first, then cut pieces, assemblies, fitting lots, order lines, holds and machines, each by
id; after them the number series and, last, the journal's head, which take their own locks.
"""

from collections.abc import Iterable
from typing import TypeVar

from django.db import models, transaction

RowT = TypeVar("RowT", bound=models.Model)


def require_transaction() -> None:
    """Refuse to go on outside a transaction: SQLite would not, and a lock would be for nothing.

    Raises:
        TransactionManagementError: always a mistake of the program, never of its user.
    """
    if not transaction.get_connection().in_atomic_block:
        message = "this must run inside the transaction of the act"
        raise transaction.TransactionManagementError(message)


def lock_rows(model: type[RowT], ids: Iterable[int]) -> list[RowT]:
    """Lock the rows of these ids, in the order of their ids; return them as they stand now.

    The key itself is not locked, so that another transaction may go on to refer to the row.
    """
    require_transaction()
    rows = model._default_manager.select_for_update(no_key=True)  # noqa: SLF001 -- Django's name
    return list(rows.filter(pk__in=set(ids)).order_by("pk"))


def lock_row(row: RowT) -> RowT:
    """Lock one row and return it as it stands now."""
    require_transaction()
    rows = type(row)._default_manager.select_for_update(no_key=True)  # noqa: SLF001 -- the same
    return rows.get(pk=row.pk)
