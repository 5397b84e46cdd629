"""What a person reads whose session ended, or whose form is older than the sign-in."""

from django.test import Client
from django.urls import reverse
from django.utils.html import strip_tags

from inventory.rules.roles import Role
from tests.factories import given_person, given_reel


def test_who_is_sent_to_sign_in_from_a_form_is_told_that_it_was_not_recorded(client, db):
    page = reverse("inventory:cut", args=[given_reel().code])
    answer = client.post(page, {"length_mm": "3"}, follow=True)
    assert "nothing of it was recorded" in answer.text


def test_who_just_signs_in_is_told_nothing_of_it(client, db):
    assert "nothing of it was recorded" not in client.get("/", follow=True).text


def test_a_form_from_before_the_sign_in_is_refused_in_words(db):
    strict = Client(enforce_csrf_checks=True)
    strict.force_login(given_person(Role.STORES))
    answer = strict.post(reverse("inventory:cut", args=[given_reel().code]), {"length_mm": "3"})
    assert answer.status_code == 403
    assert "Nothing was recorded" in answer.text
    assert "CSRF" not in answer.text


def test_the_administrator_finds_the_people_and_others_are_not_led_there(as_stores, db):
    administrator = Client()
    administrator.force_login(given_person(Role.ADMINISTRATOR))
    way = f'href="{reverse("inventory:people")}"'
    assert way in administrator.get(reverse("inventory:reels")).text
    assert way not in as_stores.get(reverse("inventory:reels")).text


def test_a_wrong_pass_phrase_is_told_in_the_words_of_the_page(client, db):
    given_person(Role.STORES)
    answer = client.post(reverse("login"), {"username": "stores", "password": "none of mine"})
    assert "User name and pass phrase do not belong together" in answer.text
    assert ">Pass phrase<" in answer.text
    assert "assword" not in strip_tags(answer.text)
