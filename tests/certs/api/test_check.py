from types import SimpleNamespace

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from certs.queries.claims import tag_of_certificate
from inventory.queries.kept_files import read_file
from tests.certs.papers import given_cut_length_draft, issued

ADDRESS = "/api/check/"


@pytest.fixture
def claims(db, tables):
    return SimpleNamespace(certificate=issued(given_cut_length_draft()))


def handed_in(client, content):
    return client.post(ADDRESS, {"file": SimpleUploadedFile("paper.pdf", content)})


def test_a_paper_is_checked_for_anyone(client, claims):
    answer = handed_in(client, read_file(claims.certificate.pdf))
    assert answer.status_code == 200
    told = answer.json()
    assert told["number"] == claims.certificate.number
    assert told["sha256"] == claims.certificate.pdf_sha256
    verdicts = {check["topic"]: check["verdict"] for check in told["checks"]}
    # The keys of the tests are for evaluation.
    assert verdicts.pop("who vouches for the keys") == "cannot_say"
    assert set(verdicts.values()) == {"holds"}
    assert told["standing"] == "not_proved"


def test_of_a_changed_paper_nothing_on_record_is_told(client, claims):
    told = handed_in(client, read_file(claims.certificate.pdf) + b"%\n").json()
    assert told["standing"] == "not_genuine"
    assert (told["number"], told["code"], told["issued_at"]) == ("", "", None)


def test_a_code_is_answered(client, claims):
    code = tag_of_certificate(claims.certificate).code
    told = client.post(ADDRESS, {"code": code}).json()
    assert told["number"] == claims.certificate.number
    assert told["checks"][0]["verdict"] == "cannot_say"


@pytest.mark.parametrize(
    ("asked", "status"),
    [
        pytest.param({}, 400, id="nothing"),
        pytest.param({"code": "0" * 16}, 404, id="an unknown code"),
        pytest.param({"code": "CL-2026-00001"}, 404, id="a number"),
    ],
)
def test_what_cannot_be_answered(client, claims, asked, status):
    assert client.post(ADDRESS, asked).status_code == status


def test_what_is_no_pdf_is_refused(client, db):
    answer = handed_in(client, b"words")
    assert answer.status_code in {400, 409}
    assert "not a PDF" in answer.text
