"""The QA officer, the customer on site and the auditor, each through the pages of the program."""

import re

import pytest
from django.test import Client

from certs.models import Certificate
from inventory.models import JournalEntry
from inventory.rules.roles import Role
from tests.factories import given_person
from tests.journeys.desk import Desk, machine_in_calibration

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables", "file_store")]


class Job:
    """The main job, done once at the desk; then it is looked at with three pairs of eyes."""

    def __init__(self):
        desk = self.desk = Desk()
        self.reel = desk.receive()
        desk.name_basis(self.reel)
        self.piece = desk.cut(self.reel)
        self.assembly = desk.build(self.piece, desk.receive_ferrules())
        self.test_page = desk.prove(self.assembly, machine_in_calibration())
        self.certificate = desk.issue(desk.draft(self.assembly))
        self.tag = desk.tag(self.assembly)


@pytest.fixture
def job():
    return Job()


def words(page):
    """The text of a page as it is read, without tags and line breaks."""
    return " ".join(re.sub(r"<[^>]+>", " ", page.text).split())


def test_the_officer_has_a_numbered_paper_at_the_end(job):
    page = job.desk.client.get(f"/certificates/{job.certificate.number}/")
    assert job.certificate.number == f"AT-{job.desk.today.year}-00001"
    assert "98.9 kN" in words(page)
    pdf = job.desk.client.get(f"/certificates/{job.certificate.number}/pdf/")
    assert b"".join(pdf).startswith(b"%PDF")


def test_the_proof_load_was_found_in_the_log(job):
    assert "passes" in words(job.test_page)
    assert "41 kN" in words(job.test_page)
    assert job.assembly.proof_tests.get().plateau_lowest_n == 41_000


def test_the_reel_shows_where_every_metre_is(job):
    page = job.desk.client.get(f"/reels/{job.reel.code}/")
    assert job.piece.code in page.text
    assert "994 m" in words(page)


def test_a_draft_that_lacks_something_is_not_issued(job):
    job.desk.post("/certificates/draft/assembly/", assembly=job.assembly.code, document_kind="3.2")
    draft = Certificate.objects.get(state="draft")
    job.desk.client.post(f"/certificates/{draft.draft_code}/issue/")
    draft.refresh_from_db()
    assert (draft.state, draft.number) == ("draft", None)


@pytest.mark.parametrize("address", ["/t/{}", "/T/{}"], ids=["as a link", "as in the QR"])
def test_the_customer_on_site_needs_no_login(job, address):
    page = Client().get(address.format(job.tag.code))
    assert page.status_code == 200
    assert len(page.content) < 14_000
    text = words(page)
    assert job.assembly.code in text
    assert "Working load limit" in text
    assert "Never load above" in text


def test_the_customer_learns_nothing_of_other_customers_and_leaves_no_trace(job):
    page = Client().get(f"/t/{job.tag.code}")
    assert "Shipyard" not in page.text
    assert not page.cookies


def test_the_customer_gets_the_paper_without_the_purchaser(job):
    answer = Client().get(f"/t/{job.tag.code}/paper/{job.certificate.number}.pdf")
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")


def test_a_hold_at_the_desk_is_read_on_site(job):
    job.desk.post(f"/holds/place/{job.reel.code}/", reason="broken wires seen")
    text = words(Client().get(f"/t/{job.tag.code}"))
    assert "Do not use" in text
    assert "Never load above" in text
    assert "98.9 kN" not in text


@pytest.fixture
def auditor_client(db):
    client = Client()
    client.force_login(given_person(Role.AUDITOR))
    return client


def test_the_auditor_has_the_whole_story_from_the_tag(job, auditor_client):
    text = words(auditor_client.get("/trace/", {"code": job.tag.code}))
    lot = job.assembly.piece_ties.get().terminations.first().fittings.get().lot
    for code in (job.reel.code, job.piece.code, "70001", "MTC-1", lot.code):
        assert code in text
    assert job.certificate.number in text


def test_the_auditor_sees_what_the_heat_reaches(job, auditor_client):
    text = words(auditor_client.get("/trace/recall/", {"code": "70001"}))
    assert job.assembly.code in text
    assert "Invented Shipyard" in text


def test_the_auditor_changes_nothing(job, auditor_client):
    before = JournalEntry.objects.count()
    for address in (
        "/reels/receive/",
        f"/reels/{job.reel.code}/cut/",
        "/tests/proof/record/",
        f"/certificates/{job.certificate.number}/withdraw/",
        f"/holds/place/{job.reel.code}/",
    ):
        assert auditor_client.post(address, {}).status_code == 403
    assert JournalEntry.objects.count() == before
