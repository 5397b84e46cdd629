"""OWASP ASVS 5.0.0, chapter V8: who reaches which thing, and which part of it.

8.2.1, that each function asks for a role, is shown for every address by
`tests/test_permissions.py`.
"""

import pytest
from django.test import Client
from rest_framework.authtoken.models import Token
from rest_framework.test import APIClient

from certs.models import Certificate
from certs.rules.roles import ClaimAct, may
from certs.services.authority import require
from inventory.models import CutPiece, JournalEntry, Party, Person
from inventory.rules.roles import Role
from inventory.services.accounts import change_role, close_account
from inventory.services.authority import NotAllowed
from tests.api import client_for, post
from tests.certs.conftest import tables  # noqa: F401 -- a fixture
from tests.certs.pages.conftest import plain_paper  # noqa: F401 -- a fixture
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.certs.sites import a_photograph, given_report, given_tag
from tests.factories import MOMENT, given_customer, given_person, given_reel

pytestmark = pytest.mark.usefixtures("db", "tables")
PARTS = ("pdf", "json", "credential", "proof")
KEPT_FROM_INPUT = {
    "number": "CL-2026-99999",
    "draft_code": "DR-99999",
    "state": "issued",
    "issued_at": "2020-01-01T00:00:00Z",
    "issued_by": "auditor",
    "snapshot": "{}",
    "pdf": "1",
    "is_evaluation": False,
    "credential": "{}",
}


@pytest.fixture
def qa(qa_officer):
    return client_for(qa_officer)


@pytest.fixture
def keeper(administrator):
    return client_for(administrator)


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("role", Role)
def test_8_2_2_nobody_has_a_paper_made_of_a_draft(role, part):
    code = given_cut_length_draft().draft_code
    person = given_person(role)
    assert client_for(person).get(f"/api/certificates/{code}/{part}/").status_code == 404
    browser = Client()
    browser.force_login(person)
    assert browser.get(f"/certificates/{code}/{part}/").status_code == 404


def test_8_2_2_a_stranger_is_told_of_no_draft_and_of_no_paper_of_another_tag():
    draft, paper = given_cut_length_draft(), issued(given_cut_length_draft())
    own, other = paper.tags.get(), given_tag()
    stranger = Client()
    assert stranger.get(f"/t/{own.code}/paper/{paper.number}.pdf").status_code == 200
    for path in (
        f"/t/{other.code}/paper/{paper.number}.pdf",
        f"/t/{own.code}/paper/{draft.draft_code}.pdf",
        f"/t/{draft.draft_code}",
        f"/api/tags/{draft.draft_code}/public/",
    ):
        assert stranger.get(path).status_code == 404, path
    for code in (draft.draft_code, paper.number):
        answer = APIClient().post("/api/check/", {"code": str(code)}, format="multipart")
        assert answer.status_code == 404


def test_8_2_2_the_receipt_of_a_report_is_for_whoever_holds_its_tag():
    report, other = given_report(), given_tag()
    stranger = Client()
    assert stranger.get(f"/t/{report.tag.code}/report/{report.code}/").status_code == 200
    assert stranger.get(f"/t/{other.code}/report/{report.code}/").status_code == 404


@pytest.mark.parametrize("role", [role for role in Role if not may(role, ClaimAct.READ_REPORTS)])
def test_8_2_2_photographs_are_for_whoever_reads_reports(role):
    report = given_report(photos=[a_photograph()])
    client = client_for(given_person(role))
    assert client.get(f"/api/site-reports/{report.code}/photos/1/").status_code == 403
    browser = Client()
    browser.force_login(given_person(role))
    assert browser.get(f"/reports/{report.code}/photographs/1/").status_code == 403


def test_8_2_3_how_to_reach_a_reporter_is_for_whoever_settles_reports(qa):
    report = given_report(contact="foreman@site.example")
    auditor = client_for(given_person(Role.AUDITOR))
    assert qa.get(f"/api/site-reports/{report.code}/").json()["contact"] == report.contact
    answer = auditor.get(f"/api/site-reports/{report.code}/")
    assert answer.json()["contact"] is None
    assert report.contact not in answer.content.decode()


def test_8_2_3_what_a_draft_is_cannot_be_sent_along(qa):
    body = {
        "pieces": [given_certifiable_piece().code],
        "document_kind": "statement",
        "customer": given_customer().code,
    }
    said = post(qa, "certificates/cut-length/", body | KEPT_FROM_INPUT)
    draft = Certificate.objects.get()
    assert (said["state"], said["number"], said["issued_at"]) == ("draft", None, None)
    assert draft.draft_code != KEPT_FROM_INPUT["draft_code"]
    assert (draft.pdf, draft.snapshot, draft.credential) == (None, "", "")


def test_8_2_3_an_issued_paper_takes_nothing_any_more(qa):
    paper = issued(given_cut_length_draft())
    before = Certificate.objects.filter(pk=paper.pk).values().get()
    path = f"/api/certificates/{paper.number}/"
    for method in ("put", "patch"):
        answer = getattr(qa, method)(path, {"remarks": "changed"}, format="json")
        assert answer.status_code == 405
    assert qa.delete(path).status_code == 409
    assert qa.post(f"{path}issue/", KEPT_FROM_INPUT, format="json").status_code == 409
    assert Certificate.objects.filter(pk=paper.pk).values().get() == before


def test_8_2_3_nobody_is_registered_with_more_than_a_role(keeper):
    more = {
        "is_superuser": True,
        "is_staff": True,
        "is_active": False,
        "journal_salt": "00",
        "date_joined": "2020-01-01T00:00:00Z",
        "groups": [1],
        "has_second_step": True,
    }
    body = {"username": "ada", "full_name": "Ada", "role": "stores"}
    said = post(keeper, "people/", body | {"password": "four horses in a field"} | more)
    ada = Person.objects.get(username="ada")
    assert (ada.is_superuser, ada.is_staff, ada.is_active) == (False, False, True)
    assert len(ada.journal_salt) == 64
    assert said["has_second_step"] is False
    assert ada.date_joined.year > 2020


def test_8_2_3_codes_and_moments_are_the_records_own(qa):
    reel = given_reel()
    body = {"length_mm": 1000, "purpose": "supply", "code": "P-77777", "cut_at": "2020-01-01"}
    post(qa, f"reels/{reel.code}/cut/", body | {"reel": "R-77777", "by": "auditor"})
    piece = CutPiece.objects.get()
    assert (piece.reel, piece.code != "P-77777") == (reel, True)
    party = {"kind": "customer", "name": "Invented Buyer", "code": "C-77777", "id": 77}
    made = post(qa, "parties/", party | {"registered_at": "2020-01-01T00:00:00Z"})
    assert made["code"] != "C-77777"
    assert Party.objects.get(code=made["code"]).registered_at.year > 2020


@pytest.mark.parametrize("role", Role)
@pytest.mark.parametrize("act", ClaimAct)
def test_8_3_1_the_service_asks_too_not_the_page_alone(act, role):
    person = given_person(role)
    if may(role, act):
        require(by=person, act=act)
    else:
        with pytest.raises(NotAllowed):
            require(by=person, act=act)


def test_8_3_2_a_change_of_role_counts_from_the_next_request(administrator):
    person = given_person(Role.QA_OFFICER)
    token, browser = client_for(person), Client()
    browser.force_login(person)
    assert browser.get("/certificates/draft/cut-length/").status_code == 200
    change_role(person=person, role=Role.STORES, by=administrator, at=MOMENT)
    assert token.get("/api/reels/").status_code == 401
    assert browser.get("/certificates/draft/cut-length/").status_code in {302, 403}


def test_8_3_2_whoever_is_closed_acts_no_more(administrator):
    person = given_person(Role.QA_OFFICER)
    close_account(person=person, by=administrator, at=MOMENT)
    Token.objects.create(user=person)  # even if one were left over
    entries = JournalEntry.objects.count()
    answer = client_for(person).post("/api/parties/", {"kind": "mill", "name": "Invented"})
    assert answer.status_code == 401
    with pytest.raises(NotAllowed):
        require(by=Person.objects.get(pk=person.pk), act=ClaimAct.ISSUE_CERTIFICATE)
    assert JournalEntry.objects.count() == entries
