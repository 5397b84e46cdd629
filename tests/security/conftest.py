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


@pytest.fixture
def qa(db):
    return given_person(Role.QA_OFFICER, password=PHRASE)


@pytest.fixture
def stores(db):
    return given_person(Role.STORES, password=PHRASE)


@pytest.fixture
def keeper(db):
    return given_person(Role.ADMINISTRATOR, password=PHRASE)
