import pytest
from django.db import transaction

from inventory.models import JournalEntry, Person
from inventory.rules.roles import Role
from inventory.services.accounts import (
    CannotChangePerson,
    change_own_pass_phrase,
    change_role,
    close_account,
    open_account,
    set_pass_phrase,
)
from inventory.services.authority import NotAllowed
from inventory.services.stranger import the_stranger
from tests.factories import MOMENT, given_person
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db
NEW = "nine ducks cross the lane"
ACTS = {
    "close": lambda person, by: close_account(person=person, by=by, at=MOMENT),
    "open": lambda person, by: open_account(person=person, by=by, at=MOMENT),
    "role": lambda person, by: change_role(person=person, role=Role.STORES, by=by, at=MOMENT),
    "phrase": lambda person, by: set_pass_phrase(person=person, password=NEW, by=by, at=MOMENT),
}


@pytest.fixture
def hand(db):
    return given_person(Role.TEST_BENCH, password="four horses in a field")


@pytest.mark.parametrize("act", ACTS.values(), ids=ACTS)
@pytest.mark.parametrize("role", [role for role in Role if role is not Role.ADMINISTRATOR])
def test_only_an_administrator_changes_people(act, role, hand):
    by = given_person(role)
    before = (list(Person.objects.order_by("pk").values()), JournalEntry.objects.count())
    with pytest.raises(NotAllowed):
        act(hand, by)
    assert (list(Person.objects.order_by("pk").values()), JournalEntry.objects.count()) == before


@pytest.mark.parametrize("act", ACTS.values(), ids=ACTS)
def test_nobody_gets_in_under_the_name_that_stands_for_strangers(act, administrator):
    with transaction.atomic():
        stranger = the_stranger(at=MOMENT)
    with refuses(CannotChangePerson, "stands for strangers"):
        act(stranger, administrator)
    stranger.refresh_from_db()
    assert (stranger.is_active, stranger.has_usable_password()) == (False, False)
    assert stranger.role == Role.AUDITOR.value


def test_a_closed_account_is_closed_and_opened_again(hand, administrator):
    assert not close_account(person=hand, by=administrator, at=MOMENT).is_active
    assert last_entry()[2]["deed"] == "close"
    with refuses(CannotChangePerson, "closed already"):
        close_account(person=hand, by=administrator, at=MOMENT)
    assert open_account(person=hand, by=administrator, at=MOMENT).is_active
    assert last_entry()[2]["deed"] == "open"
    with refuses(CannotChangePerson, "not closed"):
        open_account(person=hand, by=administrator, at=MOMENT)


def test_who_never_had_a_pass_phrase_is_not_opened(administrator, hand):
    hand.set_unusable_password()
    hand.is_active = False
    hand.save()
    with refuses(CannotChangePerson, "no pass phrase"):
        open_account(person=hand, by=administrator, at=MOMENT)


def test_another_role_is_given_and_journalled(hand, administrator):
    assert (
        change_role(person=hand, role=Role.AUDITOR, by=administrator, at=MOMENT).role == "auditor"
    )
    detail = last_entry()[2]
    assert (detail["deed"], detail["role"]) == ("change_role", "auditor")


def test_the_same_role_again_is_refused(hand, administrator):
    with refuses(CannotChangePerson, "already"):
        change_role(person=hand, role=Role.TEST_BENCH, by=administrator, at=MOMENT)


@pytest.mark.parametrize("act", ["close", "role"])
def test_the_last_administrator_stays(act, administrator):
    with refuses(CannotChangePerson, "last administrator"):
        ACTS[act](administrator, administrator)


@pytest.mark.parametrize("act", ["close", "role"])
def test_one_of_two_administrators_may_go(act, administrator):
    other = Person.objects.get(pk=administrator.pk)
    other.pk, other.username = None, "second"
    other.save()
    ACTS[act](administrator, other)
    keepers = Person.objects.filter(role=Role.ADMINISTRATOR.value, is_active=True)
    assert keepers.get() == other


def test_a_new_pass_phrase_counts_and_the_journal_does_not_tell_it(hand, administrator):
    set_pass_phrase(person=hand, password=NEW, by=administrator, at=MOMENT)
    assert Person.objects.get(pk=hand.pk).check_password(NEW)
    assert NEW not in JournalEntry.objects.order_by("number").last().canonical


@pytest.mark.parametrize("phrase", ["short", "password1234"])
def test_an_unfit_pass_phrase_is_refused(hand, administrator, phrase):
    with refuses(CannotChangePerson, "too"):
        set_pass_phrase(person=hand, password=phrase, by=administrator, at=MOMENT)


@pytest.mark.parametrize(
    ("former", "new", "why", "field"),
    [
        ("not it", NEW, "not your pass phrase", "former"),
        ("four horses in a field", "four horses in a field", "choose another", "password"),
        ("four horses in a field", "short", "too short", "password"),
    ],
)
def test_one_changes_ones_own_only_knowing_the_former(hand, former, new, why, field):
    with refuses(CannotChangePerson, why) as refused:
        change_own_pass_phrase(by=hand, former=former, password=new, session_key=None, at=MOMENT)
    assert refused.value.field == field


def test_ones_own_pass_phrase_is_changed(hand):
    change_own_pass_phrase(
        by=hand, former="four horses in a field", password=NEW, session_key=None, at=MOMENT
    )
    assert Person.objects.get(pk=hand.pk).check_password(NEW)
    assert last_entry()[2]["deed"] == "change_own_pass_phrase"
