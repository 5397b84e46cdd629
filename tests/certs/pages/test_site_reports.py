import pytest
from django.urls import reverse

from certs.models import SiteReport
from certs.services.settle_report import close_report, hold_reported
from inventory.models import Hold
from inventory.rules.roles import Role
from tests.certs.sites import a_photograph, given_report, given_tag
from tests.clients import client_of
from tests.factories import (
    MOMENT,
    given_delivery,
    given_heat,
    given_person,
    given_piece,
    given_reel,
)


@pytest.fixture
def piece(db):
    return given_piece(reel=given_reel(heats=[given_heat(number="583107")]))


@pytest.fixture
def report(piece):
    given_delivery(piece)
    return given_report(
        given_tag(piece),
        words="It parted\nunder load.",
        contact="foreman@site.example",
        photos=[a_photograph()],
    )


def page(name, report, *more):
    return reverse(f"certs:{name}", args=[report.code, *more])


def closed(report):
    close_report(report=report, reason="scrapped", by=given_person(), at=MOMENT)


def test_a_report_shows_words_photograph_and_the_story_of_that_moment(as_quality, report):
    text = as_quality.get(page("site_report", report)).text
    assert "It parted<br>under load." in text
    assert page("site_photograph", report, 1) in text
    assert "583107" in text
    assert "Invented Customer" in text
    assert report.photos.get().original_sha256 in text


def test_the_contact_is_for_the_qa_officer_alone(as_quality, as_auditor, report):
    assert "foreman@site.example" in as_quality.get(page("site_report", report)).text
    assert "foreman" not in as_auditor.get(page("site_report", report)).text


@pytest.mark.parametrize("role", Role)
def test_who_reads_reports(role, report):
    client = client_of(role)
    status = 200 if role in {Role.QA_OFFICER, Role.AUDITOR} else 403
    for address in (
        reverse("certs:site_reports"),
        page("site_report", report),
        page("site_photograph", report, 1),
    ):
        assert client.get(address).status_code == status


def test_a_photograph_is_handed_out_to_be_saved_and_run_by_nothing(as_quality, report):
    answer = as_quality.get(page("site_photograph", report, 1))
    assert answer["Content-Type"] == "image/jpeg"
    assert answer["Content-Disposition"].startswith("attachment")
    assert "sandbox" in answer["Content-Security-Policy"]
    assert as_quality.get(page("site_photograph", report, 2)).status_code == 404


@pytest.mark.parametrize(
    ("state", "listed"), [("", "SR-00002"), ("closed", "SR-00001"), ("all", "SR-00001")]
)
def test_open_ones_are_listed_unless_others_are_asked_for(as_quality, report, state, listed):
    closed(report)
    given_report()
    assert listed in as_quality.get(reverse("certs:site_reports"), {"state": state}).text


def test_a_hold_is_placed_from_the_report_on_the_item(as_quality, report, piece):
    asked = as_quality.get(page("hold_reported", report))
    assert f'value="{piece.code}"' in asked.text
    values = {"subject": piece.code, "reason": "as reported"}
    answer = as_quality.post(page("hold_reported", report), values, follow=True)
    hold = Hold.objects.get()
    assert hold.code in answer.text
    assert "<h1>Do not use</h1>" in as_quality.get(f"/t/{report.tag.code}").text


def test_what_cannot_be_held_is_refused(as_quality, report):
    values = {"subject": "C-00001", "reason": "as reported"}
    assert "on record" in as_quality.post(page("hold_reported", report), values).text
    assert not Hold.objects.exists()


def test_a_second_hold_is_refused_in_words(as_quality, report, piece):
    hold_reported(report=report, subject=piece, reason="so", by=given_person(), at=MOMENT)
    values = {"subject": piece.code, "reason": "again"}
    assert "names a hold already" in as_quality.post(page("hold_reported", report), values).text


def test_a_report_is_closed_in_words(as_quality, report):
    as_quality.post(page("close_report", report), {"reason": "cut up and scrapped"})
    text = as_quality.get(page("site_report", report)).text
    assert "cut up and scrapped" in text
    assert page("close_report", report) not in text


def test_the_contact_is_forgotten(as_quality, report):
    as_quality.post(page("forget_contact", report))
    assert SiteReport.objects.get().contact == ""
    assert "foreman" not in as_quality.get(page("site_report", report)).text


@pytest.mark.parametrize("name", ["hold_reported", "close_report", "forget_contact"])
def test_an_auditor_settles_nothing(as_auditor, report, name):
    assert as_auditor.get(page(name, report)).status_code == 403
    assert as_auditor.post(page(name, report)).status_code == 403
    assert page(name, report) not in as_auditor.get(page("site_report", report)).text


def test_words_of_a_stranger_are_only_words(as_quality, db):
    report = given_report(words="<script>alert(1)</script>")
    text = as_quality.get(page("site_report", report)).text
    assert "<script>alert" not in text
    assert "&lt;script&gt;" in text
