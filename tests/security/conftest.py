"""Fixtures for the tests of what keeps strangers out."""

import pytest
from django.core.cache import caches

from inventory.rules.roles import Role
from tests.factories import given_person
from tests.security.phone import Phone

PHRASE = "four horses in a field"


@pytest.fixture
def phone(monkeypatch):
    return Phone(monkeypatch)


@pytest.fixture
def second_step_needed(settings):
    settings.MFA_REQUIRED = True


@pytest.fixture
def limits(settings):
    """Set limits by name, counted from nothing: limits(login="3/min")."""
    caches["rate"].clear()

    def set_limits(**named):
        settings.RATE_LIMITS = settings.RATE_LIMITS | named

    yield set_limits
    caches["rate"].clear()


def who_signs_in(role):
    """A person of the role who has the pass phrase, whoever registered him before."""
    person = given_person(role)
    person.set_password(PHRASE)
    person.save()
    return person


@pytest.fixture
def qa(db):
    return who_signs_in(Role.QA_OFFICER)


@pytest.fixture
def stores(db):
    return who_signs_in(Role.STORES)


@pytest.fixture
def keeper(db):
    return who_signs_in(Role.ADMINISTRATOR)
