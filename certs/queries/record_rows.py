"""Reads every row of the record as text that no engine of databases has a part in.

One line a row, its columns in the order of the model, so that what SQLite held PostgreSQL can hold
again, and the same record gives the same bytes on both. `certs.services.restore_rows` puts them
back.
"""

import json
from base64 import b64encode
from collections.abc import Iterator
from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.apps import apps
from django.db import connection, models
from django.db.migrations.recorder import MigrationRecorder

# Who is signed in just now belongs to no record: whoever restores one signs in anew.
_LEFT_OUT = frozenset({"sessions.Session"})
_AT_ONCE = 1000


def tables() -> list[type[models.Model]]:
    """All tables of the record, by name."""
    kept = (
        model
        for model in apps.get_models(include_auto_created=True)
        if model._meta.managed and not model._meta.proxy and model._meta.label not in _LEFT_OUT
    )
    return sorted(kept, key=lambda model: model._meta.db_table)


def columns(model: type[models.Model]) -> list["models.Field[Any, Any]"]:
    """The columns of a table, in the order of its lines."""
    return list(model._meta.local_concrete_fields)


def lines(model: type[models.Model]) -> Iterator[bytes]:
    """Each row as one line of JSON, in the order of the primary key."""
    rows = model._base_manager.order_by("pk")  # noqa: SLF001 -- the one that hides no row
    for row in rows.values_list(*(c.attname for c in columns(model))).iterator(_AT_ONCE):
        text = json.dumps(
            [_plain(value) for value in row],
            ensure_ascii=False,
            separators=(",", ":"),
            sort_keys=True,
        )
        yield text.encode() + b"\n"


def values_of(model: type[models.Model], line: bytes) -> list[Any]:
    """The values of a line as the database at hand takes them."""
    return [
        column.get_db_prep_save(_from_plain(column, value), connection)
        for column, value in zip(columns(model), json.loads(line), strict=True)
    ]


def migrations() -> tuple[str, ...]:
    """Which migrations made the tables what they are, such as "inventory.0001_record"."""
    return tuple(
        sorted(f"{app}.{name}" for app, name in MigrationRecorder(connection).applied_migrations())
    )


def _plain(value: Any) -> Any:  # noqa: ANN401 -- whatever a column holds
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal | UUID):
        return str(value)
    if isinstance(value, bytes | memoryview):
        return b64encode(value).decode()
    return value


def _from_plain(column: "models.Field[Any, Any]", value: Any) -> Any:  # noqa: ANN401 -- as above
    return (
        value if value is None or isinstance(column, models.JSONField) else column.to_python(value)
    )
