from datetime import UTC, datetime

from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from inventory.models import Person, Preference
from inventory.pages.forms.moments import MomentField
from inventory.pages.reading import Reading, moment, read_as, zone_named
from tests import factories as given

# Fourteen hours ahead of UTC, all the year (IANA time zone database).
AHEAD = "Pacific/Kiritimati"


def reader_of(client):
    return Person.objects.get(pk=client.session["_auth_user_id"])


def test_pages_are_written_as_the_reader_asks(as_auditor):
    reel = given.given_reel(length_m=12)
    answer = as_auditor.post("/account/reading/", {"units": "us", "time_zone": AHEAD}, follow=True)
    assert "12.000 m (39.37 ft)" in answer.text
    text = as_auditor.get("/reels/").text
    assert "12.000 m (39.37 ft)" in text
    order = given.given_order()
    assert f"{order.placed_at:%Y-%m}" in as_auditor.get("/orders/").text
    assert "+14" in as_auditor.get("/orders/").text
    assert "39.37 ft" not in as_auditor.get(f"/api/reels/{reel.code}/").text


def test_another_reader_is_not_touched(as_auditor, as_quality):
    given.given_reel(length_m=12)
    as_auditor.post("/account/reading/", {"units": "us", "time_zone": ""})
    assert "39.37 ft" in as_auditor.get("/reels/").text
    assert "39.37 ft" not in as_quality.get("/reels/").text


def test_a_zone_that_is_known_no_more_is_the_house_s(as_auditor):
    Preference.objects.create(person=reader_of(as_auditor), time_zone="Gone/Nowhere")
    given.given_order()
    assert "UTC" in as_auditor.get("/orders/").text


def test_a_paper_of_tomorrow_is_refused_by_the_day_of_the_house(as_quality, monkeypatch):
    Preference.objects.create(person=reader_of(as_quality), time_zone=AHEAD)
    monkeypatch.setattr(timezone, "now", lambda: datetime(2026, 11, 25, 12, 0, tzinfo=UTC))
    asked = {
        "mill": given.given_mill().code,
        "number": "1",
        "kind": "3.1",
        "form": "original",
        "issued_date": "2026-11-26",
        "content": SimpleUploadedFile("scan.pdf", given.pdf_bytes(), "application/pdf"),
    }
    answer = as_quality.post("/mill-documents/file/", asked)
    assert "The document is dated in the future" in answer.text


def test_a_moment_is_typed_and_shown_in_the_zone_of_the_reader():
    field = MomentField()
    at = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
    with read_as(Reading(zone=zone_named(AHEAD))):
        assert field.clean("2026-11-26T02:00") == at
        assert field.prepare_value(at) == datetime(2026, 11, 26, 2, 0)  # noqa: DTZ001
        assert moment(at) == "2026-11-26 02:00 +14"
        assert timezone.localdate(at).isoformat() == "2026-11-25"
    assert moment(at) == "2026-11-25 12:00 UTC"
