"""OWASP ASVS 5.0.0, chapter V5: what is taken in as a file, and how it is handed out."""

import io
import zipfile

import pikepdf
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from inventory.documents import upload
from inventory.models import MillDocument, StoredFile
from inventory.rules.roles import Role
from tests.clients import client_of
from tests.factories import given_mill, pdf_bytes

pytestmark = pytest.mark.django_db


def picture(kind, size=(8, 8)):
    out = io.BytesIO()
    Image.new("RGB", size).save(out, kind)
    return out.getvalue()


def pdf_with(change):
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf_bytes())) as pdf:
        change(pdf)
        pdf.save(out)
    return out.getvalue()


def with_javascript(pdf):
    pdf.Root.OpenAction = pikepdf.Dictionary(
        S=pikepdf.Name.JavaScript, JS=pikepdf.String("app.alert(1)")
    )


def with_launch(pdf):
    pdf.Root.OpenAction = pikepdf.Dictionary(S=pikepdf.Name.Launch, F=pikepdf.String("x.exe"))


def with_attachment(pdf):
    pdf.attachments["x.exe"] = b"MZ"


def encrypted(_pdf=None):
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf_bytes())) as pdf:
        pdf.save(out, encryption=pikepdf.Encryption(owner="o", user="u"))
    return out.getvalue()


def zipped():
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("scan.pdf", pdf_bytes())
    return out.getvalue()


UNFIT = {
    "a page of HTML that says it is a PDF": b"<html><script>alert(1)</script></html>",
    "a drawing that can run scripts": b'<svg xmlns="http://www.w3.org/2000/svg" onload="x()"/>',
    "a program": b"MZ\x90\x00" + b"\0" * 64,
    "an archive": zipped(),
    "a PDF cut off": pdf_bytes()[:-200],
    "a PDF with a script": pdf_with(with_javascript),
    "a PDF that starts a program": pdf_with(with_launch),
    "a PDF with a program inside": pdf_with(with_attachment),
    "a PDF nobody can open": encrypted(),
    "a picture cut off": picture("JPEG", (64, 64))[:-300],
    "only the first bytes of a picture": b"\xff\xd8\xff" + b"\0" * 64,
    "nothing": b"",
}


def handed_in(content, name="scan.pdf", media_type="application/pdf"):
    facts = {
        "mill": given_mill().code,
        "number": "4711",
        "kind": "3.1",
        "form": "original",
        "issued_date": "2026-01-05",
        "validated_by": "",
        "content": SimpleUploadedFile(name, content, content_type=media_type),
    }
    return client_of(Role.STORES).post(reverse("inventory:file_document"), facts)


@pytest.mark.parametrize("content", UNFIT.values(), ids=UNFIT)
def test_5_2_2_what_the_bytes_are_decides(content):
    answer = handed_in(content)
    assert answer.status_code == 200
    assert "error-summary" in answer.text
    assert not MillDocument.objects.exists()
    assert not StoredFile.objects.exists()


@pytest.mark.parametrize(
    ("content", "media_type"),
    [
        (pdf_bytes(), "application/pdf"),
        (picture("PNG"), "image/png"),
        (picture("JPEG"), "image/jpeg"),
    ],
    ids=["PDF", "PNG", "JPEG"],
)
def test_5_2_2_a_wrong_type_and_ending_change_nothing(content, media_type):
    assert handed_in(content, "evil.html", "text/html").status_code == 302
    assert StoredFile.objects.get().media_type == media_type


def test_5_2_1_a_file_too_large_is_refused(monkeypatch):
    monkeypatch.setattr(upload, "MAX_FILE_BYTES", 100)
    assert "error-summary" in handed_in(pdf_bytes()).text


def test_5_2_1_a_request_of_any_length_is_not_read(client, settings):
    settings.DATA_UPLOAD_MAX_MEMORY_SIZE = 1000
    answer = client.post(
        reverse("login"), "username=" + "a" * 2000,
        content_type="application/x-www-form-urlencoded",
    )  # fmt: skip
    assert answer.status_code == 400


def test_5_2_6_a_picture_of_too_many_pixels_is_refused(monkeypatch):
    monkeypatch.setattr(upload, "MAX_PIXELS", 100)
    assert "error-summary" in handed_in(picture("PNG", (11, 10)), "scan.png").text


@pytest.mark.parametrize(
    "name",
    ["../../etc/passwd.pdf", "..\\..\\boot.pdf", "scan\x00.pdf", "/absolute/path.pdf", "a" * 400],
    ids=["up", "up the other way", "a null", "absolute", "long"],
)
def test_5_3_2_the_name_decides_nothing_about_the_place(name):
    handed_in(pdf_bytes(), name)
    for kept in StoredFile.objects.all():
        assert kept.sha256 in kept.path.replace("/", "") or kept.sha256[4:] in kept.path
        assert ".." not in kept.path
        assert "/" not in kept.name
        assert "\\" not in kept.name


def test_5_4_1_a_file_is_handed_out_to_be_saved_and_run_by_nothing():
    handed_in(pdf_bytes(), 'a "quoted"\r\nX-Evil: 1 – ß.pdf')
    page = reverse("inventory:document_file", args=[MillDocument.objects.get().code])
    answer = client_of(Role.AUDITOR).get(page)
    assert answer["Content-Disposition"].startswith("attachment")
    assert "X-Evil" not in answer.headers
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Security-Policy"].startswith("sandbox")
    assert answer["Content-Type"] == "application/pdf"


def test_5_4_2_the_api_hands_a_file_out_the_same_way():
    handed_in(pdf_bytes())
    answer = client_of(Role.AUDITOR).get(
        f"/api/mill-documents/{MillDocument.objects.get().code}/file/"
    )
    assert answer["Content-Disposition"].startswith("attachment")
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Security-Policy"].startswith("sandbox")


def test_5_3_1_what_was_handed_in_lies_under_no_address(settings):
    assert settings.MEDIA_URL in {"", "/"}
    assert settings.STORAGES["default"]["OPTIONS"]["location"] != settings.STATIC_ROOT
