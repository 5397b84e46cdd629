"""The first administrator of a new house, registered at the server."""

from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from certs.management.commands import register_administrator
from certs.queries.audit.whole import audit
from inventory.models import JournalEntry, Person
from inventory.rules.roles import Role

pytestmark = pytest.mark.django_db

PHRASE = "a phrase of many words"


def register(*words, typed, monkeypatch):
    out = StringIO()
    monkeypatch.setattr("sys.stdin", StringIO(typed))
    call_command("register_administrator", *words, stdout=out)
    return out.getvalue()


def test_he_may_sign_in_keep_keys_and_stands_in_the_journal(monkeypatch):
    told = register("keeper", "Ada Example", typed=f"{PHRASE}\n", monkeypatch=monkeypatch)
    person = Person.objects.get()
    assert (person.role, str(person)) == (Role.ADMINISTRATOR.value, "Ada Example")
    assert person.check_password(PHRASE)
    assert "make_keys" in told
    call_command("make_keys", stdout=StringIO())
    assert JournalEntry.objects.count() == 4
    assert list(audit()) == []


@pytest.mark.parametrize("typed", ["", "short\n"], ids=["nothing", "too short"])
def test_without_a_sound_pass_phrase_nobody_is_registered(typed, monkeypatch):
    with pytest.raises(CommandError):
        register("keeper", "Ada Example", typed=typed, monkeypatch=monkeypatch)
    assert not Person.objects.exists()


def test_the_second_one_is_registered_by_the_first(administrator, monkeypatch):
    with pytest.raises(CommandError, match="ask an administrator"):
        register("keeper", "Ada Example", typed=f"{PHRASE}\n", monkeypatch=monkeypatch)


@pytest.mark.parametrize(("again", "is_taken"), [(PHRASE, True), ("another", False)])
def test_at_a_terminal_it_is_asked_for_twice_and_never_shown(again, is_taken, monkeypatch):
    class Terminal(StringIO):
        def isatty(self):
            return True

    answers = iter([PHRASE, again])
    monkeypatch.setattr("sys.stdin", Terminal())
    monkeypatch.setattr(register_administrator, "getpass", lambda _prompt: next(answers))
    if is_taken:
        call_command("register_administrator", "keeper", "Ada Example", stdout=StringIO())
    else:
        with pytest.raises(CommandError, match="two different"):
            call_command("register_administrator", "keeper", "Ada Example")
    assert Person.objects.exists() is is_taken
