"""The ways in which a row can reach the database, and by which name it was refused."""

import re
from contextlib import contextmanager

import pytest
from django.apps import apps
from django.db import IntegrityError, connection, models, transaction


def save(row):
    row.save(force_insert=True)


def bulk_create(row):
    type(row).objects.bulk_create([row])


def raw_insert(row):
    fields = [f for f in row._meta.local_concrete_fields if row.pk is not None or not f.primary_key]
    columns = ", ".join(f'"{field.column}"' for field in fields)
    values = [field.get_db_prep_save(getattr(row, field.attname), connection) for field in fields]
    marks = ", ".join(["%s"] * len(values))
    run(f"INSERT INTO {row._meta.db_table} ({columns}) VALUES ({marks})", values)  # noqa: S608


def update(row, column, value):
    type(row).objects.filter(pk=row.pk).update(**{attribute(row, column): value})


def bulk_update(row, column, value):
    name = attribute(row, column)
    setattr(row, name, value)
    field = next(f for f in row._meta.local_concrete_fields if f.attname == name)
    type(row).objects.bulk_update([row], [field.name])


def raw_update(row, column, value):
    field = next(f for f in row._meta.local_concrete_fields if f.column == column)
    new = field.get_db_prep_save(value, connection)
    run(f'UPDATE {row._meta.db_table} SET "{column}" = %s WHERE id = %s', [new, row.pk])  # noqa: S608


INSERTS = [save, bulk_create, raw_insert]
UPDATES = [update, bulk_update, raw_update]


def run(sql, params=None):
    with connection.cursor() as cursor:
        cursor.execute(sql, params)


def attribute(row, column):
    return next(f.attname for f in row._meta.local_concrete_fields if f.column == column)


def copy_of(row, **changes):
    """A row like this one, not yet in the database."""
    values = {f.attname: getattr(row, f.attname) for f in row._meta.local_concrete_fields}
    values["id"] = None
    if "code" in values:
        values["code"] = "Z-1"
    copy = type(row)(**values)
    for name, value in changes.items():
        setattr(copy, name, value)
    return copy


@contextmanager
def refused_by(name):
    with pytest.raises(IntegrityError) as caught, transaction.atomic():
        yield
    assert refusing_name(caught.value) == name


def refusing_name(error):
    text = str(error)
    guard = re.search(r"guard (\w+):", text)
    if guard:
        return guard[1]
    if connection.vendor == "postgresql":
        return error.__cause__.diag.constraint_name
    check = re.fullmatch(r"CHECK constraint failed: (\w+)", text)
    return check[1] if check else _UNIQUE.get(text, text)


def _unique_texts():
    """SQLite names the columns: its text for each unique constraint."""
    texts = {}
    for model in apps.get_models():
        table = model._meta.db_table
        for constraint in model._meta.constraints:
            if isinstance(constraint, models.UniqueConstraint):
                columns = [model._meta.get_field(name).column for name in constraint.fields]
                spelled = ", ".join(f"{table}.{column}" for column in columns)
                texts[f"UNIQUE constraint failed: {spelled}"] = constraint.name
    return texts


_UNIQUE = _unique_texts()
