import json
from datetime import UTC, datetime, timedelta, timezone

import pytest
from django.contrib.sessions.models import Session
from django.db import connection

from certs.queries.record_rows import columns, lines, migrations, tables, values_of
from inventory.models import CutPiece, Party, Person
from tests.factories import MOMENT, given_customer, given_piece

pytestmark = pytest.mark.django_db


def plain(model):
    return [json.loads(line) for line in lines(model)]


def test_every_table_there_is_but_the_sessions_is_read_once():
    names = [model._meta.db_table for model in tables()]
    there = set(connection.introspection.table_names()) - {"django_migrations", "django_session"}
    assert len(names) == len(set(names))
    assert set(names) == there
    assert Session not in tables()


def test_a_row_is_one_line_in_the_order_of_its_key():
    given_customer("Ærø Reb (invented)\n2")
    given_customer("Another (invented)")
    (first, second) = lines(Party)
    assert "Ærø Reb (invented)\\n2".encode() in first
    assert first.count(b"\n") == 1
    assert json.loads(first)[0] < json.loads(second)[0]


def test_a_moment_keeps_its_microseconds_whatever_its_zone():
    """Django's own JSON cuts them off after the third digit (DjangoJSONEncoder)."""
    moment = datetime(2026, 3, 2, 9, 0, 0, 123456, tzinfo=timezone(timedelta(hours=1)))
    piece = given_piece()
    Person.objects.filter(pk=piece.cut_by_id).update(last_login=moment)
    place = [column.attname for column in columns(Person)].index("last_login")
    told = next(row for row in plain(Person) if row[0] == piece.cut_by_id)
    assert told[place] == "2026-03-02T08:00:00.123456+00:00"


def test_values_go_back_as_they_came():
    given_piece()
    for model in (CutPiece, Person, Party):
        line = next(lines(model))
        assert len(values_of(model, line)) == len(columns(model))
    (cut,) = plain(CutPiece)
    place = [column.attname for column in columns(CutPiece)].index("cut_at")
    assert datetime.fromisoformat(cut[place]) == MOMENT.astimezone(UTC)


def test_the_shape_of_the_tables_is_named_by_their_migrations():
    assert {"inventory.0001_record", "certs.0002_guards"} <= set(migrations())
    assert list(migrations()) == sorted(migrations())
