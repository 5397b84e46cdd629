import pytest
from django.db import connection
from django.db.transaction import TransactionManagementError
from django.test.utils import CaptureQueriesContext

from inventory.models import CutPiece, Reel
from inventory.services.locks import lock_row, lock_rows
from tests.factories import given_customer, given_delivery, given_piece, given_reel

pytestmark = pytest.mark.django_db


def test_rows_are_locked_in_the_order_of_their_ids():
    reel = given_reel()
    pieces = [given_piece(reel=reel) for _ in range(3)]
    locked = lock_rows(CutPiece, [pieces[2].pk, pieces[0].pk, pieces[2].pk])
    assert locked == [pieces[0], pieces[2]]


def test_a_locked_row_is_as_it_stands_now():
    reel = given_reel(location="Bay 1")
    Reel.objects.update(location="Bay 2")
    assert (reel.location, lock_row(reel).location) == ("Bay 1", "Bay 2")


@pytest.mark.django_db(transaction=True)
def test_no_row_is_locked_outside_a_transaction(committed_db):
    reel = given_reel()
    with pytest.raises(TransactionManagementError):
        lock_row(reel)
    with pytest.raises(TransactionManagementError):
        lock_rows(Reel, [reel.pk])


@pytest.mark.skipif(connection.vendor != "postgresql", reason="SQLite locks the whole database")
@pytest.mark.parametrize(
    ("act", "order"),
    [
        (
            lambda: given_piece(reel=Reel.objects.get()),
            ["inventory_reel", "numberseries P", "inventory_journalhead"],
        ),
        (
            lambda: given_delivery(CutPiece.objects.get()),
            ["inventory_cutpiece", "numberseries V", "inventory_journalhead"],
        ),
    ],
    ids=["cut", "deliver"],
)
def test_every_act_locks_in_one_order(act, order):
    given_piece()
    given_customer()
    with CaptureQueriesContext(connection) as queries:
        act()
    assert list(dict.fromkeys(locked_tables(queries)))[-3:] == order


def locked_tables(queries):
    found = []
    for query in queries:
        sql = query["sql"]
        if " FOR " not in sql or "UPDATE" not in sql:
            continue
        table = sql.split('FROM "')[1].split('"')[0]
        if table == "inventory_numberseries":
            table = "numberseries " + sql.split('"series" = \'')[1].split("'")[0]
        found.append(table)
    return found
