from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.contrib.auth import authenticate
from django.db import connection

from inventory.models import JournalEntry, Person
from inventory.rules.roles import Role
from inventory.services import journal, people
from inventory.services.people import CannotRegisterPerson, register_person
from tests.factories import MOMENT, given_person
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db


def register(by=None, **facts):
    asked = {
        "username": "ada",
        "full_name": "Ada von Test",
        "role": Role.STORES,
        "password": "four horses in a field",
    }
    return register_person(**(asked | facts), by=by, at=MOMENT)


def test_a_person_is_registered_and_signs_in(administrator):
    person = register(administrator)
    assert (person.first_name, person.last_name, person.role) == ("Ada von", "Test", "stores")
    assert authenticate(username="ada", password="four horses in a field") == person
    assert not person.is_staff
    assert not person.is_superuser
    act, subject, detail = last_entry()
    assert (act, detail) == ("manage_people", {"deed": "register", "role": "stores"})
    assert subject == journal.person_hash(person)[:40]


def test_each_person_has_a_salt_of_his_own(administrator):
    salts = {register(administrator, username=name).journal_salt for name in ("ada", "bob")}
    assert {len(salt) for salt in salts} == {64}
    assert len(salts) == 2


def test_without_a_password_nobody_signs_in(administrator):
    person = register(administrator, password=None)
    assert not person.has_usable_password()


def test_the_first_administrator_registers_himself():
    person = register(role=Role.ADMINISTRATOR)
    assert Person.objects.get() == person


def test_the_first_person_is_no_other_role():
    with refuses(CannotRegisterPerson, "first administrator"):
        register(role=Role.QA_OFFICER)


def test_no_second_administrator_registers_himself(administrator):
    with refuses(CannotRegisterPerson, "first administrator"):
        register(role=Role.ADMINISTRATOR)


@pytest.mark.parametrize(
    ("facts", "why", "field"),
    [
        ({"username": "ADMINISTRATOR"}, "registered already", "username"),
        ({"username": "a b"}, "made of letters", "username"),
        ({"username": ""}, "made of letters", "username"),
        ({"full_name": "  "}, "name", "full_name"),
        ({"full_name": "x" * 151}, "at most 150", "full_name"),
        ({"password": "short"}, "too short", "password"),
        ({"password": "password1234"}, "too common", "password"),
    ],
    ids=[
        "name taken",
        "name with a space",
        "no user name",
        "no name",
        "long name",
        "short",
        "common",
    ],
)
def test_an_unfit_person_is_refused(administrator, facts, why, field):
    with refuses(CannotRegisterPerson, why) as refused:
        register(administrator, **facts)
    assert refused.value.field == field


def test_one_word_is_a_name(administrator):
    person = register(administrator, full_name="Ada")
    assert (person.get_full_name(), str(person)) == ("Ada", "Ada")


def test_factories_give_the_same_person_twice():
    assert given_person() == given_person()


@pytest.mark.parametrize("names", [("ada", "ada"), ("ada", "Ada")], ids=["same", "spelled apart"])
def test_of_two_who_register_one_name_at_once_one_is_told(committed_db, monkeypatch, names):
    keeper = given_person(Role.ADMINISTRATOR)
    both_looked, add_row = Barrier(2), people.add_row

    def add_when_both_looked(row, **rest):
        if connection.vendor == "postgresql":
            both_looked.wait(timeout=10)
        return add_row(row, **rest)

    def told(name):
        try:
            register(keeper, username=name)
        except CannotRegisterPerson as refusal:
            return refusal.field
        finally:
            connection.close()
        return "registered"

    monkeypatch.setattr(people, "add_row", add_when_both_looked)
    entries = JournalEntry.objects.count()
    # SQLite in memory, which threads share, is "locked" at once instead of waiting.
    with ThreadPoolExecutor(2 if connection.vendor == "postgresql" else 1) as hands:
        assert sorted(hands.map(told, names)) == ["registered", "username"]
    assert Person.objects.filter(username__iexact="ada").count() == 1
    assert JournalEntry.objects.count() == entries + 1
