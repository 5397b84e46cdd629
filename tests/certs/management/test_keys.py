"""Keys made, retired and revoked on the command line, by a person who answers for it."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from inventory.models import SigningKey
from inventory.rules.roles import Role
from inventory.rules.signing import Purpose
from inventory.services.people import register_person
from tests.factories import MOMENT, given_keys, given_person

pytestmark = pytest.mark.django_db


def run(*words):
    out = StringIO()
    call_command(*words, stdout=out, stderr=out)
    return out.getvalue()


def test_the_first_run_makes_what_is_missing_and_the_second_nothing(administrator):
    assert "for evaluation" in run("make_keys")
    assert SigningKey.objects.filter(is_evaluation=True).count() == len(Purpose)
    assert "already" in run("make_keys")


def test_before_there_is_anybody_it_says_so():
    with pytest.raises(CommandError, match="register the first one"):
        run("make_keys")


def test_of_several_administrators_one_has_to_be_named(administrator):
    register_person(
        username="second",
        full_name="Second Keeper",
        role=Role.ADMINISTRATOR,
        password=None,
        by=administrator,
        at=MOMENT,
    )
    with pytest.raises(CommandError, match="--by"):
        run("make_keys")
    run("make_keys", "--by", "second")
    assert SigningKey.objects.first().added_by.username == "second"
    with pytest.raises(CommandError, match="No active person"):
        run("make_keys", "--by", "nobody")


def test_the_next_key_of_the_house_needs_a_pass_phrase(administrator, settings):
    given_keys()
    with pytest.raises(CommandError, match="KEYS_PASSPHRASE"):
        run("make_keys", "--purpose", "all")
    settings.KEYS_PASSPHRASE = "twenty signs are the least of it"
    assert "evaluation" not in run("make_keys", "--purpose", "all")
    assert SigningKey.objects.filter(is_evaluation=False).count() == len(Purpose)
    assert SigningKey.objects.filter(is_evaluation=True, retired_at=None).count() == 0


@pytest.mark.parametrize("days", ["-3", "1.5", "soon", "9999999"])
def test_the_overlap_is_a_number_of_days_from_0_on(administrator, days):
    given_keys()
    with pytest.raises(CommandError, match="overlap-days"):
        run("make_keys", "--purpose", "log", "--evaluation", f"--overlap-days={days}")
    assert SigningKey.objects.filter(retired_at=None).count() == len(Purpose)


def test_a_key_is_retired_and_revoked_by_its_name():
    log = given_keys()[0]
    assert "stays valid" in run("retire_key", log.name)
    told = run("revoke_key", log.name, "--reason", "The laptop was stolen.")
    assert "make_keys --purpose log" in told
    log.refresh_from_db()
    assert log.retired_at
    assert log.revoke_reason == "The laptop was stolen."


@pytest.mark.parametrize("words", [("retire_key", "log-0"), ("revoke_key", "log-0", "--reason=x")])
def test_an_unknown_key_is_refused(administrator, words):
    with pytest.raises(CommandError, match="no key log-0"):
        run(*words)


def test_only_the_administrator_keeps_keys():
    name = given_person(Role.QA_OFFICER).username
    with pytest.raises(CommandError, match="does not include"):
        run("make_keys", "--by", name)


def test_with_nothing_sealed_there_is_nothing_to_renew(administrator):
    assert "0 renewed, 0 could not be." in run("renew_papers")
