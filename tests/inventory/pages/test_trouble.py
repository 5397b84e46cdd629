import errno

import pytest
from django.db import OperationalError
from django.test import Client

from inventory.services.trouble import StorageTrouble, trouble_of

pytestmark = pytest.mark.django_db

LOST = OperationalError("server closed the connection")
FULL = OSError(errno.ENOSPC, "No space left on device", "a file of the house")


@pytest.fixture
def quality(as_quality):
    as_quality.raise_request_exception = False
    return as_quality


def failing(error):
    def fails(*_args, **_options):
        raise error

    return fails


@pytest.mark.parametrize(
    ("error", "status", "words", "after"),
    [
        pytest.param(LOST, 503, "The database cannot be reached", "30", id="no database"),
        pytest.param(FULL, 503, "There is no room left for files", "300", id="no room"),
        pytest.param(
            RuntimeError("secret"), 500, "Something went wrong on our side", None, id="a fault"
        ),
    ],
)
def test_a_page_says_what_fails_and_shows_nothing_of_its_inside(
    quality, monkeypatch, error, status, words, after
):
    monkeypatch.setattr("inventory.pages.heats._table", failing(error))
    answer = quality.get("/heats/")
    page = answer.content.decode()
    assert (answer.status_code, answer.get("Retry-After")) == (status, after)
    assert f"<h1>{words}</h1>" in page
    assert "Traceback" not in page
    assert "secret" not in page
    assert "a file of the house" not in page
    assert "default-src 'none'" in answer["Content-Security-Policy"]


@pytest.mark.parametrize(
    ("error", "status", "after"),
    [(LOST, 503, "30"), (FULL, 503, "300"), (RuntimeError("secret"), 500, None)],
    ids=["no database", "no room", "a fault"],
)
def test_the_api_says_it_as_a_problem(quality, monkeypatch, error, status, after):
    monkeypatch.setattr("rest_framework.views.APIView.initial", failing(error))
    answer = quality.get("/api/reels/")
    assert (answer.status_code, answer.get("Retry-After")) == (status, after)
    assert set(answer.json()) == {"problem", "field"}
    assert "secret" not in answer.content.decode()
    assert answer["Content-Type"] == "application/json"


def test_who_signs_in_while_the_database_is_lost_is_told(monkeypatch):
    monkeypatch.setattr("django.contrib.auth.authenticate", failing(LOST))
    monkeypatch.setattr("django.contrib.auth.forms.authenticate", failing(LOST))
    client = Client(raise_request_exception=False)
    answer = client.post("/sign-in/", {"username": "qa", "password": "metre-by-metre"})
    assert answer.status_code == 503
    assert answer["Retry-After"] == "30"


def test_a_form_whose_file_cannot_be_kept_says_so_beside_what_was_typed(quality, monkeypatch):
    refused = StorageTrouble(trouble_of(FULL))
    monkeypatch.setattr("inventory.pages.parties.register_party", failing(refused))
    answer = quality.post("/parties/register/", {"kind": "mill", "name": "Invented Mill"})
    assert answer.status_code == 200
    assert "There is no room left for files. Nothing of this was recorded" in str(answer.content)
    assert "Invented Mill" in str(answer.content)
