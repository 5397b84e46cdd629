"""What the database refuses of recall notices, site reports, photographs and renewals."""

from datetime import timedelta

import pytest
from django.db import IntegrityError, transaction

from certs.models import PaperRenewal, RecallNotice, SitePhoto, SiteReport, Tag
from inventory.services.files import keep_made
from tests.certs.papers import given_cut_length_draft
from tests.factories import (
    MOMENT,
    given_customer,
    given_hold,
    given_person,
    given_piece,
    given_reel,
)
from tests.inventory.models.ways import UPDATES, refused_by

pytestmark = pytest.mark.django_db
LATER = MOMENT + timedelta(hours=1)


def a_file(name="letter.pdf"):
    return keep_made(content=name.encode(), name=name, media_type="application/pdf", at=MOMENT)


@pytest.fixture
def notice():
    return RecallNotice.objects.create(
        code="RN-00001",
        hold=given_hold(given_reel()),
        customer=given_customer(),
        facts={"pieces": []},
        letter=a_file(),
        written_at=MOMENT,
        written_by=given_person(),
    )


@pytest.fixture
def report():
    tag = Tag.objects.create(
        code="A" * 16, piece=given_piece(), issued_at=MOMENT, issued_by=given_person()
    )
    return SiteReport.objects.create(
        code="SR-00001",
        tag=tag,
        kind="damage",
        words="three broken wires",
        contact="the foreman",
        trace={},
        received_at=MOMENT,
    )


def refused(act):
    with pytest.raises(IntegrityError) as caught, transaction.atomic():
        act()
    return str(caught.value)


def changed(row, **values):
    type(row).objects.filter(pk=row.pk).update(**values)


SENT = {"sent_at": MOMENT, "sent_how": "by post"}
ANSWERED = {"acknowledged_at": LATER, "acknowledged_by": "their stores"}


@pytest.mark.parametrize(
    "values",
    [
        pytest.param({"sent_at": MOMENT}, id="sent by nobody, nohow"),
        pytest.param(SENT, id="sent by nobody"),
        pytest.param({"sent_how": "by post"}, id="sent at no time"),
        pytest.param(ANSWERED, id="answered before it was sent"),
        pytest.param({"acknowledgement": "all found"}, id="an answer from nobody"),
    ],
)
def test_half_a_notice_is_refused(notice, values):
    assert "recall_notice_" in refused(lambda: changed(notice, **values))


def test_a_notice_is_sent_and_answered_once(notice):
    someone = given_person()
    changed(notice, sent_by=someone, **SENT)
    assert "sent_once" in refused(lambda: changed(notice, sent_at=LATER))
    changed(notice, acknowledgement_recorded_by=someone, **ANSWERED)
    assert "answered_once" in refused(lambda: changed(notice, acknowledged_by="somebody else"))


@pytest.mark.parametrize("change", UPDATES)
def test_what_a_notice_says_is_kept(notice, change):
    with refused_by("certs_recallnotice_is_kept"):
        change(notice, "code", "RN-00002")


@pytest.mark.parametrize(
    "values",
    [
        pytest.param({"words": ""}, id="no words"),
        pytest.param({"closed_at": LATER}, id="closed by nobody"),
        pytest.param({"close_reason": "nothing found"}, id="closed at no time"),
    ],
)
def test_half_a_report_is_refused(report, values):
    refused(lambda: changed(report, **values))


def test_a_closed_report_stays_closed_but_its_contact_can_be_forgotten(report):
    changed(report, closed_at=LATER, closed_by=given_person(), close_reason="rope cut up")
    assert "closed_once" in refused(lambda: changed(report, close_reason="never mind"))
    changed(report, contact="")
    report.refresh_from_db()
    assert report.contact == ""


@pytest.mark.parametrize("change", UPDATES)
def test_what_was_reported_is_kept(report, change):
    with refused_by("certs_sitereport_is_kept"):
        change(report, "words", "nothing at all")


def test_a_photograph_has_one_place_and_a_whole_hash(report):
    first = {"report": report, "file": a_file("one.pdf"), "original_sha256": "0" * 64}
    photo = SitePhoto.objects.create(position=1, **first)
    assert "position" in refused(lambda: SitePhoto.objects.create(position=1, **first))
    refused(lambda: SitePhoto.objects.create(position=2, **(first | {"original_sha256": "ab"})))
    with refused_by("certs_sitephoto_is_kept"):
        changed(photo, original_sha256="1" * 64)


@pytest.mark.usefixtures("tables")
def test_a_renewal_is_kept():
    renewal = PaperRenewal.objects.create(
        certificate=given_cut_length_draft(),
        file=a_file("renewed.pdf"),
        good_until=LATER,
        made_at=MOMENT,
        made_by=given_person(),
    )
    with refused_by("certs_paperrenewal_is_kept"):
        changed(renewal, good_until=MOMENT)
