import re

import pytest
from django.core.cache import caches
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from certs.models import SiteReport
from certs.rules.report_advice import do_now
from tests.certs.sites import a_photograph, given_report, given_tag
from tests.factories import MOMENT


@pytest.fixture(autouse=True)
def _nobody_has_asked_yet():
    caches["rate"].clear()


@pytest.fixture
def tag(db):
    return given_tag()


def page_of(tag):
    return reverse("certs:report_at_tag", args=[tag.code])


def typed(**more):
    return {"kind": "damage", "words": "Broken wires at the thimble."} | more


def photo(content=None, name="IMG_0001.jpg"):
    return SimpleUploadedFile(name, content or a_photograph())


def shown(markup):
    return re.sub(r"<[^>]+>", " ", markup)


def test_the_page_behind_a_tag_leads_to_the_form(client, tag):
    assert page_of(tag) in client.get(f"/t/{tag.code}").text


def test_the_form_names_the_item_and_asks_for_no_sign_in(client, tag):
    answer = client.get(page_of(tag))
    assert answer.status_code == 200
    assert tag.piece.code in answer.text
    assert "<script" not in answer.text
    assert "Stop using it first" in answer.text


def test_a_report_gets_a_receipt_with_its_number_and_what_to_do(client, tag):
    answer = client.post(page_of(tag), typed(kind="failure"), follow=True)
    report = SiteReport.objects.get()
    assert answer.redirect_chain == [(f"{page_of(tag)}{report.code}/", 302)]
    assert report.code in answer.text
    for line in do_now("failure"):
        assert line in answer.text


def test_photographs_and_contact_come_with_it(client, tag):
    files = {f"photo_{place}": photo(a_photograph(colour=(place, 0, 0))) for place in range(1, 5)}
    client.post(page_of(tag), typed(contact="0123 456", **files))
    report = SiteReport.objects.get()
    assert report.contact == "0123 456"
    assert report.photos.count() == 4


def test_the_receipt_tells_nothing_of_what_was_said(client, tag):
    report = given_report(tag, words="Very secret words", contact="foreman@site.example")
    text = client.get(reverse("certs:report_receipt", args=[tag.code, report.code])).text
    assert "secret" not in text
    assert "foreman" not in text


def test_the_receipt_of_another_tag_is_not_found(client, tag):
    other = given_report()
    answer = client.get(reverse("certs:report_receipt", args=[tag.code, other.code]))
    assert answer.status_code == 404
    assert "No such tag" in answer.text


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        pytest.param({"words": ""}, "What did you see", id="no words"),
        pytest.param({"kind": ""}, "What is wrong?", id="nothing chosen"),
        pytest.param({"kind": "praise"}, "What is wrong?", id="no kind of ours"),
        pytest.param({"words": "x" * 2001}, "2000", id="too many words"),
        pytest.param({"words": "\0"}, "invisible character", id="no text at all"),
    ],
)
def test_what_cannot_be_taken_is_said_and_nothing_is_lost(client, tag, fields, said):
    answer = client.post(page_of(tag), typed(contact="0123 456", **fields))
    assert answer.status_code == 200
    assert said in answer.text
    assert "Please correct this first" in answer.text
    assert "0123 456" in answer.text
    assert not SiteReport.objects.exists()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        pytest.param(b"GIF89a" + bytes(30), "JPEG or PNG", id="another type"),
        pytest.param(a_photograph()[:200], "damaged", id="cut short"),
        pytest.param(b"\xff\xd8\xff" + bytes(8 * 1024 * 1024), "8 MB", id="too large"),
    ],
)
def test_a_photograph_that_cannot_be_taken_is_named(client, tag, content, said):
    answer = client.post(page_of(tag), typed(photo_2=photo(content)))
    assert said in shown(answer.text)
    assert '<a href="#id_photo_2">' in answer.text
    assert not SiteReport.objects.exists()


def test_a_program_that_fills_in_everything_reports_nothing(client, tag):
    answer = client.post(page_of(tag), typed(trap="https://spam.example"))
    assert "trap for programs" in answer.text
    assert not SiteReport.objects.exists()


def test_a_person_never_meets_the_trap(client, tag):
    trap = re.search(
        r'<div class="trap" aria-hidden="true">.*?</div>', client.get(page_of(tag)).text
    )
    assert 'tabindex="-1"' in trap[0]


def test_a_form_sent_twice_reports_once(client, tag):
    token = re.search(r'name="once" value="([^"]+)"', client.get(page_of(tag)).text)[1]
    client.post(page_of(tag), typed(once=token))
    again = client.post(page_of(tag), typed(once=token))
    assert "sent before" in again.text
    assert SiteReport.objects.count() == 1


def test_a_form_of_another_site_is_refused(tag):
    strict = Client(enforce_csrf_checks=True)
    assert strict.post(page_of(tag), typed()).status_code == 403
    form = strict.get(page_of(tag)).text
    token = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', form)[1]
    assert strict.post(page_of(tag), typed(csrfmiddlewaretoken=token)).status_code == 302


def test_whoever_keeps_no_cookies_is_told_what_to_do_and_may_call(tag):
    answer = Client(enforce_csrf_checks=True).post(page_of(tag), typed())
    assert "Stop using it first" in answer.text
    assert "Your report was not sent" in answer.text
    assert "sign in" not in answer.text
    assert answer["Cache-Control"] == "no-store"


def test_the_browser_says_where_the_form_came_from_to_this_site_alone(client, tag):
    # With "no-referrer" a browser sends "Origin: null", which Django refuses over HTTPS
    # (Fetch standard, "serializing a request origin"; the page's own policy goes before).
    assert '<meta name="referrer" content="same-origin">' in client.get(page_of(tag)).text


@pytest.mark.parametrize("code", ["nothing", "0" * 16, "x" * 300])
@pytest.mark.parametrize("method", ["get", "post"])
def test_wrong_and_unknown_codes_get_the_page_that_a_scan_gets(client, db, code, method):
    answer = getattr(client, method)(f"/t/{code}/report/", typed())
    assert answer.status_code == 404
    assert "No such tag" in answer.text


def test_nothing_is_kept_or_indexed(client, tag):
    report = given_report(tag)
    for address in (page_of(tag), reverse("certs:report_receipt", args=[tag.code, report.code])):
        answer = client.get(address)
        assert answer["Cache-Control"] == "no-store"
        assert "noindex" in answer["X-Robots-Tag"]


def test_no_customer_is_named(client, claims):
    assert "Invented Customer" not in client.get(page_of(claims.tag)).text


def test_too_many_reports_from_one_place_have_to_wait(client, tag, settings):
    settings.RATE_LIMITS = settings.RATE_LIMITS | {"report": "2/hour"}
    assert [client.post(page_of(tag), typed()).status_code for _ in range(3)] == [302, 302, 429]
    assert client.get(page_of(tag)).status_code == 200
    assert SiteReport.objects.count() == 2


def test_a_report_leaves_the_answer_of_the_tag_to_the_house(client, claims):
    given_report(claims.tag, kind="failure", at=MOMENT)
    assert "Good on record" in client.get(f"/t/{claims.tag.code}").text
