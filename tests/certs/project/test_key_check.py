"""The system check that names evaluation keys where the program is not on trial."""

import pytest

from certs.project.checks import check_signing_keys
from inventory.models import SigningKey
from inventory.rules.roles import Role
from inventory.rules.signing import Purpose
from inventory.services.keyring import make_key
from tests.factories import MOMENT, given_keys, given_person

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def in_production(settings):
    settings.DEBUG = False
    settings.SECRET_KEY = "chosen by the house and kept to itself"
    settings.KEYS_PASSPHRASE = "twenty signs are the least of it"


def named():
    return [message.msg.split()[2] for message in check_signing_keys(databases=["default"])]


def test_each_evaluation_key_is_named():
    given_keys()
    assert sorted(named()) == sorted(SigningKey.objects.values_list("name", flat=True))


def test_keys_of_the_house_are_in_order():
    for purpose in Purpose:
        by = given_person(Role.ADMINISTRATOR)
        make_key(purpose, is_evaluation=False, by=by, at=MOMENT)
    assert named() == []


def test_before_the_first_key_each_purpose_is_named_with_what_to_run():
    found = check_signing_keys(databases=["default"])
    assert [message.id for message in found] == ["certs.W003"] * len(Purpose)
    for purpose, message in zip(Purpose, found, strict=True):
        assert f"purpose {purpose.value} signs" in message.msg
        assert "make_keys" in message.hint


@pytest.mark.parametrize("has_keys", [True, False])
def test_on_trial_nothing_is_said(settings, has_keys):
    if has_keys:
        given_keys()
    settings.SECRET_KEY = "local-evaluation-key-not-for-production-use-0000"
    assert named() == []


def test_without_a_database_named_nothing_is_asked(django_assert_num_queries):
    with django_assert_num_queries(0):
        assert check_signing_keys() == []
