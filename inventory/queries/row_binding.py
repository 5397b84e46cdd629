"""Reads a row as the journal binds it: its key, its columns, and those that may name somebody.

An act binds every row that it writes (`inventory.services.journal`); the audit reads the rows
again and compares. How columns become a hash is decided in `inventory.rules.row_digest`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Final, cast

from django.db import models

from inventory.rules.canonical import JsonValue
from inventory.rules.row_digest import row_digest, salted_digest

# What may name a person or a firm goes into a hash of its own, under the salt of who acted.
SALTED: Final = frozenset(
    {
        "acknowledged_by",
        "acknowledgement",
        "address",
        "laboratory",
        "name",
        "operator",
        "organisation",
        "validated_by",
        "words",
    }
)
# What may be forgotten, or is changed without an act: signing in, a name, a contact.
UNBOUND: Final = frozenset(
    {
        "contact",
        "email",
        "first_name",
        "journal_salt",
        "last_login",
        "last_name",
        "password",
        "username",
    }
)


@dataclass(frozen=True, slots=True)
class Bindings:
    """What an entry says of the rows it wrote, by model and key; None: a row was thrown away."""

    rows: Mapping[str, Mapping[str, str | None]]
    named: Mapping[str, Mapping[str, str]]

    def as_detail(self) -> dict[str, JsonValue]:
        """Give the part of an entry's detail that binds these rows."""
        parts: dict[str, JsonValue] = {"rows": dict(self.rows), "named": dict(self.named)}
        return {name: part for name, part in parts.items() if part}


def bindings(*, rows: Iterable[models.Model], gone: Iterable[str], salt: str) -> Bindings:
    """Bind these rows as they are, and the keys of rows that are gone.

    Args:
        salt: the secret of who acts, for columns that may name somebody.
    """
    plain: dict[str, dict[str, str | None]] = {}
    named: dict[str, dict[str, str]] = {}
    for key in gone:
        label, _, pk = key.rpartition(":")
        plain.setdefault(label, {})[pk] = None
    for row in rows:
        label, _, pk = row_key(row).rpartition(":")
        plain.setdefault(label, {})[pk] = row_digest(bound_columns(row))
        if names := salted_columns(row):
            named.setdefault(label, {})[pk] = salted_digest(names, salt=salt)
    return Bindings(plain, named)


def row_key(row: models.Model) -> str:
    """Name a row by its model and its primary key: "inventory.Reel:12"."""
    return f"{row._meta.label}:{row.pk}"


def bound_columns(row: models.Model) -> dict[str, JsonValue]:
    """Return the columns that name nobody, as JSON."""
    return {f.attname: _json(f, row) for f in _fields(row) if f.attname not in SALTED | UNBOUND}


def salted_columns(row: models.Model) -> dict[str, JsonValue]:
    """Return the columns that may name somebody and are not empty, as JSON."""
    values = {f.attname: _json(f, row) for f in _fields(row) if f.attname in SALTED}
    return {name: value for name, value in values.items() if value not in (None, "")}


def _fields(row: models.Model) -> list[models.Field[object, object]]:
    return list(row._meta.concrete_fields)


def _json(field: models.Field[object, object], row: models.Model) -> JsonValue:
    """Give a column's value as the database will give it back, in a form that JSON has."""
    value = getattr(row, field.attname)
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat(timespec="microseconds")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, bool) or value is None:
        return value
    if isinstance(value, int):
        # As text, for a number of a column may be greater than JSON readers keep exactly.
        return str(value)
    # A member of an enumeration is its text.
    return str.__str__(value) if isinstance(value, str) else cast("JsonValue", value)
