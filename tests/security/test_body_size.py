"""OWASP ASVS 5.0.0, 5.2.1: what says that it is too long is refused before any of it is read."""

import pytest
from django.test import Client

from certs.documents.handed_in_paper import MOST_SENT
from certs.project.security_settings import MOST_BODY_BYTES
from certs.services.report_from_site import MAX_PHOTOS
from inventory.documents.photograph import MAX_PHOTO_BYTES
from inventory.documents.upload import MAX_FILE_BYTES, MAX_LOG_BYTES
from inventory.rules.roles import Role
from tests.clients import client_of

MULTIPART = "multipart/form-data; boundary=b"
ADDRESSES = [
    "/check/", "/t/0000000000000000/report/", "/sign-in/", "/mill-documents/file/",
    "/api/check/", "/api/tags/0000000000000000/reports/", "/api/token/", "/api/proof-tests/",
]  # fmt: skip


class Unread:
    """A body that fails the test when somebody reads of it."""

    def read(self, *_sizes):
        pytest.fail("the body was read")

    readline = read


def sent(client, path, length, media_type=MULTIPART):
    says = {"CONTENT_LENGTH": str(length), "CONTENT_TYPE": media_type}
    return client.generic("POST", path, **says, **{"wsgi.input": Unread()})


@pytest.mark.parametrize("media_type", [MULTIPART, "application/json", "text/plain"])
@pytest.mark.parametrize("path", ADDRESSES)
def test_5_2_1_nothing_larger_than_all_that_is_asked_for_is_read(db, path, media_type):
    for client in (Client(), client_of(Role.QA_OFFICER)):
        answer = sent(client, path, MOST_BODY_BYTES + 1, media_type)
        assert answer.status_code == 413
        assert "33 MB" in answer.text
        assert answer["Content-Security-Policy"]


def test_5_2_1_a_check_takes_no_more_than_a_paper(db):
    answer = sent(Client(), "/api/check/", MOST_SENT + 1)
    assert answer.status_code == 413
    assert "10 MB" in answer.json()["detail"]
    assert "10 MB" in sent(Client(), "/check/", MOST_SENT + 1).text


def test_everything_that_is_asked_for_fits():
    words = 1024**2
    assert MAX_PHOTOS * MAX_PHOTO_BYTES + words <= MOST_BODY_BYTES
    assert MAX_FILE_BYTES + words <= MOST_BODY_BYTES
    assert MAX_LOG_BYTES + words <= MOST_BODY_BYTES
    assert MOST_SENT <= MOST_BODY_BYTES


@pytest.mark.parametrize("length", ["", "many", "-1", "²", "1e9"])
def test_a_length_that_is_no_number_is_read_as_nothing(db, length):
    answer = Client().generic("POST", "/sign-in/", CONTENT_LENGTH=length, CONTENT_TYPE=MULTIPART)
    assert answer.status_code in {200, 400}
