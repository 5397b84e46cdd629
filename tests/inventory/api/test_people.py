import pytest
from django.contrib.auth import authenticate
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django_otp.plugins.otp_totp.models import TOTPDevice
from rest_framework.authtoken.models import Token

from inventory.models import JournalEntry, Person
from inventory.rules.roles import Role
from tests.api import client_for, get, post
from tests.factories import given_person

PHRASE = "four horses in a field"
ADA = {"username": "ada", "full_name": "Ada von Test", "role": "stores", "password": PHRASE}


@pytest.fixture
def keeper(administrator):
    return client_for(administrator)


def deed_of_last_entry():
    return JournalEntry.objects.order_by("-number").first().canonical


def test_a_person_is_registered_and_signs_in(keeper):
    said = post(keeper, "people/", ADA)
    assert said["username"] == "ada"
    assert (said["role"], said["is_active"], said["has_second_step"]) == ("stores", True, False)
    assert "password" not in said
    assert authenticate(username="ada", password=PHRASE) == Person.objects.get(username="ada")


def test_the_list_is_narrowed_and_tells_who_has_a_second_step(keeper):
    TOTPDevice.objects.create(user=given_person(Role.QA_OFFICER), confirmed=True)
    TOTPDevice.objects.create(user=given_person(Role.STORES), confirmed=False)
    told = {p["username"]: p["has_second_step"] for p in get(keeper, "people/")["results"]}
    assert told == {"administrator": False, "qa_officer": True, "stores": False}
    assert [p["username"] for p in get(keeper, "people/", role="stores")["results"]] == ["stores"]
    assert get(keeper, "people/", is_active="false")["results"] == []


def test_three_people_cost_as_many_queries_as_one(keeper):
    with CaptureQueriesContext(connection) as few:
        get(keeper, "people/")
    for role in Role:
        given_person(role)
    with CaptureQueriesContext(connection) as many:
        get(keeper, "people/")
    assert len(many) == len(few)


def test_another_role_ends_what_the_person_is_signed_in_with(keeper):
    stores = given_person(Role.STORES)
    client_for(stores)
    assert post(keeper, "people/stores/role/", {"role": "test_bench"})["role"] == "test_bench"
    assert not Token.objects.filter(user=stores).exists()


def test_a_new_pass_phrase_takes_the_place_of_the_former(keeper):
    given_person(Role.STORES)
    post(keeper, "people/stores/pass-phrase/", {"password": f" {PHRASE} "})
    assert authenticate(username="stores", password=PHRASE) is None
    assert authenticate(username="stores", password=f" {PHRASE} ") is not None
    assert PHRASE not in deed_of_last_entry()


def test_an_account_is_closed_and_opened_again(keeper):
    post(keeper, "people/", ADA)
    assert post(keeper, "people/ada/close/")["is_active"] is False
    assert authenticate(username="ada", password=PHRASE) is None
    assert post(keeper, "people/ada/open/")["is_active"] is True
    assert authenticate(username="ada", password=PHRASE) is not None


def test_a_second_step_is_taken_away(keeper):
    TOTPDevice.objects.create(user=given_person(Role.QA_OFFICER), confirmed=True)
    said = post(keeper, "people/qa_officer/reset-second-step/")
    assert said["has_second_step"] is False
    again = keeper.post("/api/people/qa_officer/reset-second-step/")
    assert (again.status_code, "no second step" in again.json()["problem"]) == (409, True)


@pytest.mark.parametrize(
    ("path", "body", "status", "field"),
    [
        ("people/", ADA | {"password": "short"}, 400, "password"),
        ("people/", ADA | {"username": "ADMINISTRATOR"}, 400, "username"),
        ("people/", ADA | {"role": "owner"}, 400, "role"),
        ("people/administrator/role/", {"role": "stores"}, 409, ""),
        ("people/administrator/close/", {}, 409, ""),
        ("people/administrator/open/", {}, 409, ""),
    ],
    ids=["weak", "taken", "no such role", "last administrator", "closes himself", "open already"],
)
def test_what_the_pages_refuse_is_refused_here(keeper, path, body, status, field):
    before = list(Person.objects.order_by("pk").values())
    answer = keeper.post(f"/api/{path}", body, format="json")
    assert answer.status_code == status
    said = answer.json()
    assert field in said or said["field"] == field
    assert list(Person.objects.order_by("pk").values()) == before


@pytest.mark.parametrize("role", [role for role in Role if role is not Role.ADMINISTRATOR])
def test_nobody_else_reads_of_accounts(role, administrator):
    client = client_for(given_person(role))
    for path in ("people/", "people/administrator/"):
        assert client.get(f"/api/{path}").status_code == 403
