import pytest
from django.core.cache import caches
from rest_framework.test import APIClient

from inventory.rules.roles import Role
from tests.factories import given_mill, given_person

PASSWORD = "a long invented pass phrase"


@pytest.fixture(autouse=True)
def _ten_tries_a_minute(settings):
    settings.RATE_LIMITS = settings.RATE_LIMITS | {"login": "10/min"}
    caches["rate"].clear()


@pytest.fixture
def person(db):
    return given_person(Role.ADMINISTRATOR, password=PASSWORD)


def ask_token(person, password=PASSWORD):
    body = {"username": person.username, "password": password}
    return APIClient().post("/api/token/", body, format="json")


def test_a_token_opens_the_record(person):
    token = ask_token(person).json()["token"]
    answer = APIClient().get("/api/parties/", headers={"Authorization": f"Token {token}"})
    assert answer.status_code == 200


def test_a_wrong_password_gets_no_token(person):
    answer = ask_token(person, "another pass phrase")
    assert answer.status_code == 400
    assert "token" not in answer.json()


def test_guessing_is_slowed_down(person):
    statuses = [ask_token(person, f"guess {n}").status_code for n in range(11)]
    assert statuses == [400] * 10 + [429]


def test_a_made_up_forwarding_does_not_make_another_guesser(person):
    for n in range(10):
        ask_token(person, f"guess {n}")
    body = {"username": person.username, "password": PASSWORD}
    forwarded = {"X-Forwarded-For": "192.0.2.7"}  # RFC 5737: an address for documentation
    answer = APIClient().post("/api/token/", body, format="json", headers=forwarded)
    assert answer.status_code == 429


@pytest.mark.parametrize("header", ["", "Token 0123456789abcdef", "Token"])
def test_nobody_reads_unsigned(db, header):
    given_mill()
    answer = APIClient().get("/api/parties/", headers={"Authorization": header})
    assert answer.status_code == 401
    assert "results" not in answer.json()


def test_a_person_who_left_is_not_let_in(person):
    token = ask_token(person).json()["token"]
    person.is_active = False
    person.save()
    answer = APIClient().get("/api/parties/", headers={"Authorization": f"Token {token}"})
    assert answer.status_code == 401


def test_a_session_reads_and_acts_only_with_its_own_forms_token(person):
    client = APIClient(enforce_csrf_checks=True)
    client.force_login(person)
    assert client.get("/api/parties/").status_code == 200
    answer = client.post("/api/parties/", {"kind": "mill", "name": "Mill"}, format="json")
    assert answer.status_code == 403
    assert "CSRF" in answer.json()["detail"]
