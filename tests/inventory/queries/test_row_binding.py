"""What of a row an entry binds, and what it must not tell."""

import json
from datetime import UTC, datetime, timedelta, timezone

import pytest

from inventory.models import JournalEntry, Party, Person, Reel
from inventory.queries.row_binding import (
    bindings,
    bound_columns,
    row_key,
    salted_columns,
)
from tests.factories import MOMENT, given_customer, given_mill_document, given_person, given_reel

pytestmark = pytest.mark.django_db


def test_every_column_is_bound_salted_or_named_as_left_out():
    reel = given_reel()
    bound, salted = bound_columns(reel), salted_columns(reel)
    columns = {field.attname for field in Reel._meta.concrete_fields}
    assert (set(bound), salted) == (columns, {})
    assert (bound["length_mm"], bound["wound_from_id"]) == (str(reel.length_mm), None)


def test_names_and_addresses_are_kept_apart():
    party = given_customer("Invented Rigging")
    assert salted_columns(party) == {"name": "Invented Rigging"}
    assert "name" not in bound_columns(party)
    document = given_mill_document()
    assert salted_columns(document) == {"validated_by": "Head of inspection (invented)"}


def test_of_a_person_only_what_he_may_do_is_bound():
    bound = bound_columns(given_person())
    left_out = {"username", "first_name", "last_name", "email", "password", "journal_salt"}
    assert bound["role"] == "qa_officer"
    assert left_out.isdisjoint(bound)
    assert salted_columns(given_person()) == {}


def test_a_moment_is_bound_in_one_zone():
    party = Party(name="x", registered_at=MOMENT.astimezone(timezone(timedelta(hours=5))))
    assert bound_columns(party)["registered_at"] == "2026-03-02T08:00:00.000000+00:00"
    assert datetime.fromisoformat("2026-03-02T08:00:00+00:00").tzinfo is UTC


@pytest.mark.parametrize("give", [given_reel, given_customer, given_mill_document, given_person])
def test_a_row_is_bound_as_the_database_gives_it_back(give):
    row = give()
    again = type(row).objects.get(pk=row.pk)
    assert bindings(rows=[row], gone=[], salt="s") == bindings(rows=[again], gone=[], salt="s")


def test_an_entry_names_rows_by_model_and_key():
    reel, party = given_reel(), given_customer()
    detail = bindings(rows=[reel, party], gone=["certs.Tag:9"], salt="s").as_detail()
    assert detail["rows"].keys() == {"inventory.Reel", "inventory.Party", "certs.Tag"}
    assert detail["rows"]["certs.Tag"] == {"9": None}
    assert detail["named"].keys() == {"inventory.Party"}
    assert row_key(reel) == f"inventory.Reel:{reel.pk}"


def test_an_act_that_writes_nothing_binds_nothing():
    assert bindings(rows=[], gone=[], salt="s").as_detail() == {}


def test_a_name_is_bound_under_the_salt_of_who_acted():
    party = given_customer("Invented Rigging")
    told = json.loads(JournalEntry.objects.get(subject=party.code).canonical)["detail"]["named"]
    salt = Person.objects.get(username="qa_officer").journal_salt
    assert told == bindings(rows=[party], gone=[], salt=salt).as_detail()["named"]
    assert told != bindings(rows=[party], gone=[], salt="").as_detail()["named"]
