"""Addresses of the API that lead nowhere, and methods that an address does not know."""

import pytest
from rest_framework.test import APIClient


@pytest.mark.parametrize("path", ["nonsense/", "reels/R-1/", "parties/M-00001/wishes/", "a/b/c/"])
def test_an_address_that_leads_nowhere_says_so_in_json(qa, path):
    answer = qa.get(f"/api/{path}")
    assert answer.status_code == 404
    assert "detail" in answer.json()


def test_an_act_upon_nothing_says_so_in_json_too(admin):
    client = APIClient(enforce_csrf_checks=True)
    assert client.post("/api/nonsense/").json() == {"detail": "Not found."}


def test_a_forgotten_slash_is_put_right(qa):
    answer = qa.get("/api/parties")
    assert (answer.status_code, answer["Location"]) == (301, "/api/parties/")


@pytest.mark.parametrize("method", ["put", "patch", "delete"])
def test_nothing_on_record_is_changed_in_place(qa, method):
    answer = getattr(qa, method)("/api/parties/M-00001/", {"name": "Another"}, format="json")
    assert answer.status_code == 405


def test_the_answer_is_json_whatever_was_asked_for(qa):
    answer = qa.get("/api/parties/", headers={"Accept": "text/html"})
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/json")


def test_a_body_of_another_kind_is_not_read(qa):
    answer = qa.post("/api/parties/", "<party/>", content_type="application/xml")
    assert answer.status_code == 415


@pytest.mark.parametrize(
    "body", ["{", "[]", '"text"', "null", '{"kind": "mill", "name": "\\u0000"}']
)
def test_a_body_that_cannot_be_read_is_refused(qa, body):
    answer = qa.post("/api/parties/", body, content_type="application/json")
    assert answer.status_code == 400


def test_the_schema_is_for_anyone(db):
    assert APIClient().get("/api/schema/").status_code == 200
