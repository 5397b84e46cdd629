"""Someone at a tag reports a failure; the house holds the reel, recalls it and is answered."""

import pytest
from django.core.cache import caches
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from certs.models import RecallNotice, SiteReport
from certs.queries.tag_status import Standing, tag_answer
from certs.services.issue import CannotIssue, issue_certificate
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.certs.sites import a_photograph, given_tag
from tests.factories import MOMENT, given_customer, given_delivery, given_person, given_piece

pytestmark = pytest.mark.usefixtures("tables")


def answer_of(tag):
    return tag_answer(tag.code).standing


def sold(piece, name):
    tag, customer = given_tag(piece), given_customer(name)
    issued(given_cut_length_draft(piece, customer=customer))
    given_delivery(piece, customer=customer)
    return tag


def send_and_answer(client, letter):
    client.post(f"/recall-notices/{letter.code}/sent/", {"how": "by e-mail"})
    letter.refresh_from_db()
    when = letter.sent_at.strftime("%Y-%m-%dT%H:%M")
    values = {"who": "Stores", "when": when, "note": "out of use"}
    client.post(f"/recall-notices/{letter.code}/answer/", values)


def waits_no_more(client):
    """What the first page says that nobody waits for."""
    return client.get("/").text.partition("Nothing else waits: no ")[2].partition("</p>")[0]


def test_from_a_report_on_site_to_an_answered_recall(as_quality):
    caches["rate"].clear()
    reel = given_documented_reel()
    near, far, kept = (given_piece(reel=reel, length_m=5) for _ in range(3))
    near_tag, far_tag = sold(near, "Near Yard"), sold(far, "Far Yard")
    draft = given_cut_length_draft(kept)
    assert answer_of(near_tag) is answer_of(far_tag) is Standing.GOOD

    stranger = Client()
    told = {"kind": "failure", "words": "It parted under load.", "photo_1": _file()}
    receipt = stranger.post(f"/t/{near_tag.code}/report/", told, follow=True)
    report = SiteReport.objects.get()
    assert report.code in receipt.text
    assert report.code in as_quality.get("/").text
    assert answer_of(near_tag) is Standing.GOOD

    held = {"subject": reel.code, "reason": "A piece of it parted on site"}
    as_quality.post(f"/reports/{report.code}/hold/", held)
    report.refresh_from_db()
    assert answer_of(near_tag) is answer_of(far_tag) is Standing.DO_NOT_USE
    with pytest.raises(CannotIssue):
        issue_certificate(certificate=draft, by=given_person(), at=MOMENT)

    recall = f"/holds/{report.hold.code}/recall/"
    assert "2 customers were not told" in as_quality.get(recall).text
    as_quality.post(f"{recall}letters/", {"words": "A piece of this rope parted on site."})
    # The draft names a purchaser too, but no paper of his was issued.
    letters = list(RecallNotice.objects.order_by("id"))
    assert {letter.customer.name for letter in letters} == {"Near Yard", "Far Yard"}
    for letter in letters:
        send_and_answer(as_quality, letter)
    assert "recall letters without an answer" in waits_no_more(as_quality)

    as_quality.post(f"/reports/{report.code}/close/", {"reason": "The reel is scrapped."})
    assert "reports from site" in waits_no_more(as_quality)
    assert answer_of(near_tag) is Standing.DO_NOT_USE


def _file():
    return SimpleUploadedFile("IMG.jpg", a_photograph())
