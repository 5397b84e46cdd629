"""Tells a row of the record as JSON, column by column: nothing chosen, nothing worked out.

A person is told by name or by role alone, whichever the reader may know; another row by its code,
a kept file by its name and hash.
"""

from datetime import date
from typing import Any

from django.db.models import Field, ForeignKey, Model

from inventory.models import Person, StoredFile
from inventory.rules.stranger import STRANGER

Facts = dict[str, Any]


def row_facts(row: Model, *, with_names: bool) -> Facts:
    """Tell every column of a row but its keys; moments in ISO 8601.

    Args:
        with_names: whether people are named; else by their role alone.
    """
    told: Facts = {}
    for column in row._meta.concrete_fields:
        if not column.primary_key:
            told[column.name] = _value(row, column, with_names=with_names)
    return told


def person_told(person: Person, *, with_names: bool) -> str:
    """Tell a person by role and, where the reader may know it, by name."""
    if person.username == STRANGER:
        return "a stranger at a tag"
    role = person.get_role_display()
    return f"{person}, {role}" if with_names else role


def _value(row: Model, column: "Field[Any, Any]", *, with_names: bool) -> Any:  # noqa: ANN401
    value = getattr(row, column.name)
    if isinstance(column, ForeignKey):
        return None if value is None else _other(value, with_names=with_names)
    return value.isoformat() if isinstance(value, date) else value


def _other(row: Model, *, with_names: bool) -> Facts | str:
    if isinstance(row, Person):
        return person_told(row, with_names=with_names)
    if isinstance(row, StoredFile):
        return {"name": row.name, "sha256": row.sha256}
    return str(getattr(row, "code", row))
