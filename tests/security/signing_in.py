"""Signing in as a browser does, for tests."""

from django.urls import reverse

from tests.security.conftest import PHRASE


def sign_in(client, person, phrase=PHRASE, **more):
    body = {"username": person.username, "password": phrase, **more}
    return client.post(reverse("login"), body)


def second_step(client, code):
    return client.post(reverse("inventory:second_step"), {"code": code})


def is_in(client):
    return client.get(reverse("inventory:reels")).status_code == 200


def sign_in_with_phone(client, person, phone):
    """Both steps; the clock goes on, as a code counts once."""
    sign_in(client, person)
    answer = second_step(client, phone.code(person))
    phone.set_clock(phone.now + 30)
    return answer
