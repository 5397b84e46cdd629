import pytest
from django.core.cache import caches
from django.core.files.uploadedfile import SimpleUploadedFile
from rest_framework.test import APIClient

from certs.models import SiteReport
from certs.rules.report_advice import do_now
from inventory.models import Hold
from inventory.rules.roles import Role
from tests.api import client_for, get, post
from tests.certs.sites import a_photograph, given_report, given_tag
from tests.factories import given_person, given_piece


@pytest.fixture(autouse=True)
def _nobody_has_asked_yet():
    caches["rate"].clear()


@pytest.fixture
def stranger(db):
    return APIClient()


@pytest.fixture
def report(db):
    return given_report(contact="foreman@site.example", photos=[a_photograph()])


def photo(content=None):
    return SimpleUploadedFile("IMG.jpg", content or a_photograph())


def reported(client, tag, **body):
    values = {"kind": "failure", "words": "It parted."} | body
    return client.post(f"/api/tags/{tag.code}/reports/", values, format="multipart")


def test_a_stranger_reports_with_photographs_and_gets_a_receipt(stranger):
    answer = reported(stranger, given_tag(), photos=[photo(), photo(a_photograph(kind="PNG"))])
    report = SiteReport.objects.get()
    assert answer.status_code == 201
    assert answer.json()["code"] == report.code
    assert answer.json()["do_now"] == list(do_now("failure"))
    assert report.photos.count() == 2


@pytest.mark.parametrize(
    ("body", "field"),
    [
        pytest.param({"words": ""}, "words", id="no words"),
        pytest.param({"kind": "praise"}, "kind", id="no kind of ours"),
        pytest.param({"photos": [photo() for _ in range(5)]}, "photos", id="five photographs"),
    ],
)
def test_what_cannot_be_taken_is_named(stranger, body, field):
    answer = reported(stranger, given_tag(), **body)
    assert answer.status_code == 400
    assert field in answer.json()
    assert not SiteReport.objects.exists()


def test_no_photograph_is_refused_with_its_field(stranger):
    answer = reported(stranger, given_tag(), photos=[photo(b"GIF89a" + bytes(9))])
    assert (answer.status_code, answer.json()["field"]) == (400, "photos")


def test_an_unknown_tag_takes_no_report(stranger):
    assert stranger.post(f"/api/tags/{'0' * 16}/reports/").status_code == 404


def test_too_many_have_to_wait_counted_with_the_pages(stranger, client, settings):
    settings.RATE_LIMITS = settings.RATE_LIMITS | {"report": "2/hour"}
    tag = given_tag()
    client.post(f"/t/{tag.code}/report/", {"kind": "damage", "words": "seen"})
    statuses = [reported(stranger, tag).status_code for _ in range(2)]
    assert statuses == [201, 429]


@pytest.mark.parametrize("role", Role)
def test_who_reads_reports_and_who_sees_the_contact(report, role):
    client = client_for(given_person(role))
    answer = client.get(f"/api/site-reports/{report.code}/")
    if role not in {Role.QA_OFFICER, Role.AUDITOR}:
        assert answer.status_code == 403
        return
    shown = "foreman@site.example" if role is Role.QA_OFFICER else None
    assert answer.json()["contact"] == shown


def test_a_report_leads_to_its_photographs_and_its_trace(qa, report):
    [told] = get(qa, f"site-reports/{report.code}/")["photos"]
    answer = qa.get(f"/api/site-reports/{report.code}/photos/{told['position']}/")
    assert answer["Content-Type"] == "image/jpeg"
    assert b"Secret Owner" not in answer.content
    assert get(qa, f"site-reports/{report.code}/trace/") == report.trace
    assert qa.get(f"/api/site-reports/{report.code}/photos/2/").status_code == 404


def test_a_report_is_held_closed_and_its_contact_forgotten(qa, report):
    code = report.tag.piece.code
    hold = post(qa, f"site-reports/{report.code}/hold/", {"subject": code, "reason": "as reported"})
    assert hold["code"] == Hold.objects.get().code
    closed = post(qa, f"site-reports/{report.code}/close/", {"reason": "scrapped"})
    assert (closed["hold"], closed["close_reason"]) == (hold["code"], "scrapped")
    assert post(qa, f"site-reports/{report.code}/forget-contact/")["contact"] == ""
    again = qa.post(f"/api/site-reports/{report.code}/close/", {"reason": "once more"})
    assert again.status_code == 409


@pytest.mark.parametrize(
    ("query", "codes"),
    [
        ({}, ["SR-00002", "SR-00001"]),
        ({"is_closed": "true"}, ["SR-00001"]),
        ({"is_closed": "false"}, ["SR-00002"]),
        ({"kind": "failure"}, ["SR-00002"]),
    ],
    ids=["all", "closed", "open", "of a kind"],
)
def test_the_list_is_narrowed(qa, report, query, codes):
    given_report(kind="failure")
    post(qa, f"site-reports/{report.code}/close/", {"reason": "scrapped"})
    assert [row["code"] for row in get(qa, "site-reports/", **query)["results"]] == codes


def test_the_public_answer_of_the_tag_stops_with_the_hold(qa, stranger):
    piece = given_piece()
    report = given_report(given_tag(piece))
    post(qa, f"site-reports/{report.code}/hold/", {"subject": piece.code, "reason": "so"})
    told = stranger.get(f"/api/tags/{report.tag.code}/public/").json()
    assert told["standing"] == "do_not_use"
