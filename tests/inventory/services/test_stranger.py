import json

import pytest
from django.contrib.auth import authenticate
from django.db import transaction

from inventory.models import JournalEntry, Person
from inventory.rules.roles import Act, Role, may
from inventory.services.people import CannotRegisterPerson, register_person
from inventory.services.stranger import STRANGER, the_stranger
from tests.factories import MOMENT, given_person


@pytest.fixture
def stranger(db):
    return the_stranger(at=MOMENT)


def test_there_is_one_stranger_and_his_registration_is_journalled_once(stranger):
    assert the_stranger(at=MOMENT) == stranger
    entry = JournalEntry.objects.get(act=Act.MANAGE_PEOPLE, by=stranger)
    assert json.loads(entry.canonical)["detail"]["deed"] == "register"
    assert STRANGER not in entry.canonical


def test_he_cannot_sign_in_and_may_change_nothing(stranger):
    assert not stranger.is_active
    assert not stranger.has_usable_password()
    assert authenticate(username=STRANGER, password="") is None
    assert [act for act in Act if may(Role(stranger.role), act)] == [Act.READ_RECORD]


def test_nobody_is_registered_under_his_name(db):
    with pytest.raises(CannotRegisterPerson, match="letters, digits"):
        register_person(
            username=STRANGER,
            full_name="Some Body",
            role=Role.STORES,
            password=None,
            by=given_person(Role.ADMINISTRATOR),
            at=MOMENT,
        )
    assert not Person.objects.filter(username=STRANGER).exists()


@pytest.mark.usefixtures("committed_db")
def test_he_acts_within_a_transaction_alone():
    with pytest.raises(transaction.TransactionManagementError):
        the_stranger(at=MOMENT)
