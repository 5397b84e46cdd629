"""What is recorded is never changed, deleted, replaced or emptied, whichever way it is tried."""

from datetime import date, datetime, timedelta

import pytest
from django.db import connection

from inventory.models.guards import missing
from inventory.models.ledger_guards import GUARDS
from tests.factories import MOMENT
from tests.inventory.models.ways import UPDATES, refused_by, run

pytestmark = pytest.mark.django_db

# Written by hand from the design: everything that exists, but for accounts and counters.
KEPT = {
    "Assembly": set(),
    "AssemblyPiece": set(),
    "Calibration": set(),
    "Checkpoint": set(),
    "CutPiece": {"is_reversed"},
    "CutReversal": set(),
    "Delivery": set(),
    "DeliveryItem": set(),
    "FittingLot": set(),
    "FittingUse": set(),
    "Heat": set(),
    "Hold": {"released_at", "released_by_id", "release_reason"},
    "JournalEntry": set(),
    "MerkleNode": set(),
    "MillDocument": set(),
    "Order": set(),
    "OrderLine": set(),
    "Reel": {"location"},
    "ReelHeat": set(),
    "SigningKey": {"retired_at", "revoked_at", "revoke_reason"},
    "StoredFile": set(),
    "Termination": set(),
}


def other_than(value, field):
    """A value of the same type that is not this one."""
    if value is None:
        return {"CharField": "x", "DateField": MOMENT.date()}.get(field.get_internal_type(), 1)
    later = {int: 1, datetime: timedelta(seconds=1), date: timedelta(days=1)}
    if type(value) in later:
        return value + later[type(value)]
    return {bool: not value, dict: ["changed"], list: ["changed"]}.get(type(value), "x")


def kept_guard(row):
    return f"{row._meta.db_table}_is_kept"


@pytest.mark.parametrize("name", KEPT)
def test_no_column_is_changed_by_plain_sql(world, name):
    row = world[name]
    fields = [f for f in row._meta.local_concrete_fields if f.column not in KEPT[name]]
    assert len(fields) > 2
    for field in fields:
        new = field.get_db_prep_save(other_than(getattr(row, field.attname), field), connection)
        sql = f'UPDATE {row._meta.db_table} SET "{field.column}" = %s WHERE id = %s'  # noqa: S608
        with refused_by(kept_guard(row)):
            run(sql, [new, row.pk])


# One telling column of each.
TELLING = {
    "Assembly": "kind",
    "AssemblyPiece": "position",
    "Calibration": "range_to_n",
    "Checkpoint": "root",
    "CutPiece": "to_mm",
    "CutReversal": "reason",
    "Delivery": "customer_id",
    "DeliveryItem": "delivery_id",
    "FittingLot": "quantity",
    "FittingUse": "quantity",
    "Heat": "number",
    "Hold": "reason",
    "JournalEntry": "canonical",
    "MerkleNode": "hash",
    "MillDocument": "kind",
    "Order": "customer_id",
    "OrderLine": "length_mm",
    "Reel": "length_mm",
    "ReelHeat": "heat_id",
    "SigningKey": "public_key",
    "StoredFile": "sha256",
    "Termination": "kind",
}


@pytest.mark.parametrize("change", UPDATES)
@pytest.mark.parametrize(("name", "column"), list(TELLING.items()))
def test_no_row_is_changed(world, name, column, change):
    row = world[name]
    field = next(f for f in row._meta.local_concrete_fields if f.column == column)
    with refused_by(kept_guard(row)):
        change(row, column, other_than(getattr(row, field.attname), field))


def delete_by_orm(row):
    row._meta.default_manager.filter(pk=row.pk)._raw_delete(connection.alias)  # noqa: SLF001 -- past PROTECT


def delete_by_sql(row):
    run(f"DELETE FROM {row._meta.db_table} WHERE id = %s", [row.pk])  # noqa: S608


@pytest.mark.parametrize("delete", [delete_by_orm, delete_by_sql])
@pytest.mark.parametrize("name", KEPT)
def test_no_row_is_deleted(world, name, delete):
    row = world[name]
    with refused_by(f"{row._meta.db_table}_is_never_deleted"):
        delete(row)


@pytest.mark.parametrize("name", KEPT)
def test_no_row_is_replaced_or_table_emptied(world, name):
    row = world[name]
    table = row._meta.db_table
    if connection.vendor == "postgresql":
        run("SET CONSTRAINTS ALL IMMEDIATE")
        with refused_by(f"{table}_is_never_emptied"):
            run(f"TRUNCATE {table} CASCADE")
    else:
        with refused_by(f"{table}_is_never_replaced"):
            run(f"INSERT OR REPLACE INTO {table} SELECT * FROM {table} WHERE id = {row.pk}")  # noqa: S608


@pytest.mark.parametrize(
    ("name", "column", "value"),
    [("Reel", "location", "Bay 9"), ("Hold", "reason", None)],
    ids=["a reel is moved", "nothing changes"],
)
@pytest.mark.parametrize("change", UPDATES)
def test_what_may_change_does(world, name, column, value, change):
    row = world[name]
    change(row, column, getattr(row, column) if value is None else value)
    row.refresh_from_db()
    assert value is None or getattr(row, column) == value


def test_the_guards_of_just_these_tables_stand():
    guarded = {g.name.removesuffix("_is_kept") for g in GUARDS if g.name.endswith("_is_kept")}
    assert guarded == {f"inventory_{name.lower()}" for name in KEPT}
    assert missing(connection, GUARDS) == ()
