"""OWASP ASVS 5.0.0, chapter V7: sessions begin anew, and end when they must."""

import pytest
from django.test import Client
from django.urls import reverse
from rest_framework.authtoken.models import Token

from inventory.models import JournalEntry, Person
from inventory.services import second_step as steps
from tests.factories import MOMENT
from tests.security.conftest import PHRASE
from tests.security.signing_in import is_in, sign_in, sign_in_with_phone

pytestmark = pytest.mark.django_db
NEW = "nine ducks cross the lane"


@pytest.fixture
def at_desk(stores):
    client = Client()
    sign_in(client, stores)
    return client


@pytest.fixture
def at_keepers_desk(keeper):
    client = Client()
    sign_in(client, keeper)
    return client


def changed(client, page, person, **facts):
    answer = client.post(reverse(f"inventory:{page}", args=[person.username]), facts)
    assert answer["Location"] == reverse("inventory:person", args=[person.username]), answer.text


def token_opens(person):
    token, _ = Token.objects.get_or_create(user=person)
    return lambda: (
        Client().get("/api/parties/", headers={"Authorization": f"Token {token.key}"}).status_code
        == 200
    )


def test_7_2_4_signing_in_begins_a_new_session(stores, settings):
    client = Client()
    client.get(reverse("login"))
    client.session["planted"] = "by another"
    client.session.save()
    sign_in(client, stores)
    first = client.cookies[settings.SESSION_COOKIE_NAME].value
    client.post(reverse("logout"))
    sign_in(client, stores)
    assert client.cookies[settings.SESSION_COOKIE_NAME].value != first


def test_7_2_4_each_step_of_the_sign_in_changes_the_session(
    second_step_needed, phone, qa, settings
):
    phone.set_up(qa)
    client = Client()
    sign_in(client, qa)
    waiting = client.cookies[settings.SESSION_COOKIE_NAME].value
    client.post(reverse("inventory:second_step"), {"code": phone.code(qa)})
    assert is_in(client)
    assert client.cookies[settings.SESSION_COOKIE_NAME].value != waiting
    assert not is_in(Client(headers={"Cookie": f"{settings.SESSION_COOKIE_NAME}={waiting}"}))


def test_7_4_1_a_session_that_was_signed_out_opens_nothing(at_desk, settings):
    key = at_desk.cookies[settings.SESSION_COOKIE_NAME].value
    at_desk.post(reverse("logout"))
    kept = Client()
    kept.cookies[settings.SESSION_COOKIE_NAME] = key
    assert not is_in(kept)


def test_7_4_1_nobody_is_signed_out_by_a_link(at_desk):
    assert at_desk.get(reverse("logout")).status_code == 405
    assert is_in(at_desk)


def test_7_3_2_a_session_lasts_a_working_day(settings):
    assert settings.SESSION_COOKIE_AGE == 12 * 3600


def test_7_4_2_closing_an_account_ends_sessions_and_token(at_desk, at_keepers_desk, stores):
    opens = token_opens(stores)
    assert is_in(at_desk)
    assert opens()
    changed(at_keepers_desk, "close_account", stores)
    assert not is_in(at_desk)
    assert not opens()
    sign_in(at_desk, stores)
    assert not is_in(at_desk)
    changed(at_keepers_desk, "open_account", stores)
    assert not is_in(at_desk)
    sign_in(at_desk, stores)
    assert is_in(at_desk)


def test_7_4_2_another_role_is_signed_in_anew(at_desk, at_keepers_desk, stores):
    opens = token_opens(stores)
    changed(at_keepers_desk, "change_role", stores, role="qa_officer")
    assert not is_in(at_desk)
    assert not opens()
    assert Person.objects.get(pk=stores.pk).role == "qa_officer"


def test_7_4_3_ones_own_new_pass_phrase_ends_every_other_session(at_desk, stores):
    elsewhere = Client()
    sign_in(elsewhere, stores)
    opens = token_opens(stores)
    answer = at_desk.post(reverse("inventory:account"), {"former": PHRASE, "password": NEW})
    assert answer.status_code == 302
    assert is_in(at_desk)
    assert not is_in(elsewhere)
    assert not opens()


def test_7_4_3_a_new_pass_phrase_from_the_administrator_ends_all(at_desk, at_keepers_desk, stores):
    changed(at_keepers_desk, "set_pass_phrase", stores, password=NEW)
    assert not is_in(at_desk)
    sign_in(at_desk, stores, NEW)
    assert is_in(at_desk)


def test_7_4_3_taking_the_second_step_away_ends_all(phone, at_keepers_desk, stores):
    phone.set_up(stores)
    client = Client()
    sign_in_with_phone(client, stores, phone)
    assert is_in(client)
    changed(at_keepers_desk, "reset_second_step", stores)
    assert not is_in(client)
    assert not steps.is_set_up(stores)
    entry = JournalEntry.objects.order_by("number").last()
    assert '"deed":"reset_second_step"' in entry.canonical


def test_6_4_6_the_administrator_never_learns_a_pass_phrase(at_keepers_desk, stores):
    page = reverse("inventory:person", args=[stores.username])
    text = at_keepers_desk.get(page).text
    assert stores.password not in text
    assert stores.journal_salt not in text


def test_7_4_5_only_the_sessions_of_that_person_end(at_desk, at_keepers_desk, stores, qa):
    other = Client()
    sign_in(other, qa)
    changed(at_keepers_desk, "set_pass_phrase", stores, password=NEW)
    assert is_in(other)
    assert is_in(at_keepers_desk)


def test_the_last_administrator_is_told_why_he_stays(at_keepers_desk, keeper):
    page = reverse("inventory:close_account", args=[keeper.username])
    answer = at_keepers_desk.post(page)
    assert "last administrator" in answer.text
    assert is_in(at_keepers_desk)


def test_what_is_not_there_cannot_be_taken_away(at_keepers_desk, stores):
    page = reverse("inventory:reset_second_step", args=[stores.username])
    assert "no second step" in at_keepers_desk.post(page).text


def test_who_is_locked_out_is_let_in_again_at_the_server(phone, keeper):
    phone.set_up(keeper)
    steps.reset_at_server(person=keeper, at=MOMENT)
    assert not steps.is_set_up(keeper)
    with pytest.raises(steps.CannotSetUp):
        steps.reset_at_server(person=keeper, at=MOMENT)


def test_a_wrong_former_pass_phrase_changes_nothing(at_desk, stores):
    answer = at_desk.post(reverse("inventory:account"), {"former": "wrong", "password": NEW})
    assert "not your pass phrase" in answer.text
    assert Person.objects.get(pk=stores.pk).check_password(PHRASE)
