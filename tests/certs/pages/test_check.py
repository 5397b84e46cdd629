import ast
from types import SimpleNamespace

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from certs.documents.handed_in_paper import MOST_SENT
from certs.queries.claims import tag_of_certificate
from certs.services.withdraw import withdraw_certificate
from inventory.models import JournalEntry, StoredFile
from inventory.queries.kept_files import read_file
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT, given_person

LIGHT = 14 * 1024


def handed_in(client, content, name="paper.pdf"):
    sent = SimpleUploadedFile(name, content, content_type="application/pdf")
    return client.post(reverse("certs:check"), {"file": sent})


@pytest.fixture
def claims(db, tables):
    """A paper as it is truly printed and signed."""
    return SimpleNamespace(certificate=issued(given_cut_length_draft()))


@pytest.fixture
def pdf(claims):
    return read_file(claims.certificate.pdf)


@pytest.fixture
def strict():
    """A browser of a stranger, with all of Django's defences."""
    return Client(enforce_csrf_checks=True)


def test_anyone_is_asked_for_a_paper(strict, db):
    answer = strict.get("/check", follow=True)
    assert answer.status_code == 200
    assert "The PDF of the certificate" in answer.text
    assert not answer.cookies
    assert answer["Cache-Control"] == "no-store"
    assert "<script" not in answer.text


def test_a_paper_as_issued_is_told_check_by_check(strict, claims, pdf):
    answer = handed_in(strict, pdf)
    assert answer.status_code == 200
    assert f"Byte for byte the file that was issued as {claims.certificate.number}" in answer.text
    assert answer.text.count("<li>") == 7
    assert "Same file as issued: holds" in answer.text
    assert "Status now: holds" in answer.text
    # The keys of the tests are for evaluation.
    assert "<h1>Not proved</h1>" in answer.text
    assert "They vouch for nobody" in answer.text


def test_a_changed_paper_is_told_apart_from_a_withdrawn_one(strict, claims, pdf):
    assert "<h1>Not valid</h1>" in handed_in(strict, pdf + b"%\n").text
    withdraw_certificate(
        certificate=claims.certificate, reason="Wrong reel", by=given_person(), at=MOMENT
    )
    answer = handed_in(strict, pdf)
    assert "<h1>Genuine, but do not rely on it</h1>" in answer.text
    assert "Status now: fails" in answer.text


def test_the_page_is_light_and_names_no_customer(strict, pdf):
    for answer in (strict.get(reverse("certs:check")), handed_in(strict, pdf)):
        assert len(answer.content) < LIGHT
        assert "Invented Customer" not in answer.text


def test_nothing_is_kept_of_what_is_handed_in(strict, pdf):
    before = StoredFile.objects.count(), JournalEntry.objects.count()
    handed_in(strict, pdf + b"%\n")
    assert (StoredFile.objects.count(), JournalEntry.objects.count()) == before


def test_a_code_is_answered_and_proves_no_file(strict, claims):
    code = tag_of_certificate(claims.certificate).code
    text = strict.post(reverse("certs:check"), {"code": code}).text
    assert claims.certificate.number in text
    assert "Same file as issued: cannot say" in text


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        pytest.param({}, "Choose a PDF or type a code.", id="nothing"),
        pytest.param({"code": "CL-2026-00001"}, "leads to no paper on record", id="a number"),
        pytest.param({"code": "0" * 16}, "leads to no paper on record", id="unknown"),
        pytest.param({"code": "0" * 41}, "Shorten it to 40 characters", id="too long"),
        pytest.param(
            {"file": SimpleUploadedFile("a.pdf", b"")}, "This is not a PDF", id="an empty file"
        ),
        pytest.param(
            {"file": SimpleUploadedFile("a.pdf", b"\x89PNG")}, "This is not a PDF", id="a picture"
        ),
    ],
)
def test_says_what_is_wrong_with_what_was_asked(strict, claims, asked, words):
    answer = strict.post(reverse("certs:check"), asked)
    assert answer.status_code == 200
    assert words in answer.text
    assert "Please correct this first" in answer.text


def test_a_file_that_is_too_large_is_not_even_read(strict, db):
    answer = strict.post(
        reverse("certs:check"), b"", content_type="text/plain", CONTENT_LENGTH=str(MOST_SENT + 1)
    )
    assert "The file is larger than 10 MB." in answer.text


def test_how_often_one_address_may_ask_is_limited(db, settings):
    settings.RATE_LIMITS = {**settings.RATE_LIMITS, "check": "1/min"}
    client = Client(REMOTE_ADDR="198.51.100.7")
    assert client.post(reverse("certs:check"), {}).status_code == 200
    assert client.post(reverse("certs:check"), {}).status_code == 429
    assert client.get(reverse("certs:check")).status_code == 200


def test_the_verifier_is_handed_out_as_a_file(strict, db):
    answer = strict.get(reverse("certs:verifier"))
    assert "verify_record.py" in answer["Content-Disposition"]
    assert ast.get_docstring(ast.parse(answer.content)).startswith("Checks certificates")
