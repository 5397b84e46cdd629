import json
from io import BytesIO

import pytest
from django.db import IntegrityError
from PIL import Image

from certs.models import SitePhoto, SiteReport
from certs.services import report_from_site as service
from certs.services.report_from_site import MAX_PHOTOS, CannotReport
from inventory.models import JournalEntry
from inventory.queries.kept_files import read_file
from inventory.rules.canonical import canonical_text, sha256_hex
from inventory.rules.stranger import STRANGER
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.certs.sites import a_photograph, given_report, given_tag
from tests.factories import (
    MOMENT,
    given_assembly,
    given_delivery,
    given_heat,
    given_piece,
    given_reel,
)


def last_entry():
    return JournalEntry.objects.order_by("-number").first()


def detail():
    return json.loads(last_entry().canonical)["detail"]


def test_a_report_has_a_number_and_the_moment_it_came(db):
    report = given_report(words="  It slipped.  ", kind="failure")
    assert (report.code, report.words, report.kind) == ("SR-00001", "It slipped.", "failure")
    assert report.received_at == MOMENT
    assert report.closed_at is None


def test_the_trace_is_attached_as_it_was(db):
    heat = given_heat(number="583107")
    piece = given_piece(reel=given_reel(heats=[heat]))
    delivery = given_delivery(piece)
    report = given_report(given_tag(piece))
    given_piece(reel=piece.reel)
    report.refresh_from_db()
    assert report.trace["things"] == [piece.code]
    [story] = report.trace["stories"]
    [back] = story["back"]
    assert [one["number"] for one in back["heats"]] == ["583107"]
    assert [one["code"] for one in story["deliveries"]] == [delivery.code]
    assert len(story["pieces"]) == 1


def test_the_tag_of_an_assembly_leads_to_its_story(db):
    assembly = given_assembly()
    assert given_report(given_tag(assembly=assembly)).trace["things"] == [assembly.code]


def test_the_code_of_a_paper_leads_to_every_piece_on_it(tables):
    one, other = given_certifiable_piece(), given_certifiable_piece()
    tag = issued(given_cut_length_draft(one, other)).tags.get()
    report = given_report(tag)
    assert report.trace["things"] == [one.code, other.code]
    assert [story["asked"]["code"] for story in report.trace["stories"]] == [one.code, other.code]


def test_no_more_than_twelve_pieces_on_a_paper_are_traced_and_all_are_named(tables, monkeypatch):
    monkeypatch.setattr("certs.queries.site_reports.STORIES", 1)
    pieces = [given_certifiable_piece(), given_certifiable_piece()]
    report = given_report(issued(given_cut_length_draft(*pieces)).tags.get())
    assert (len(report.trace["things"]), len(report.trace["stories"])) == (2, 1)


def test_it_is_journalled_by_the_stranger_and_binds_what_it_holds(db):
    report = given_report(photos=[a_photograph()])
    entry, told = last_entry(), detail()
    photo = report.photos.get()
    assert (entry.subject, entry.by.username) == (report.code, STRANGER)
    assert told["deed"] == "receive"
    assert told["trace_sha256"] == sha256_hex(canonical_text(report.trace).encode())
    assert told["photos"] == [photo.file.sha256]
    assert told["originals"] == [sha256_hex(a_photograph())]
    assert str(report.pk) in told["rows"]["certs.SiteReport"]
    assert str(photo.pk) in told["rows"]["certs.SitePhoto"]


def test_neither_tag_nor_contact_nor_words_stand_in_the_journal(db):
    report = given_report(contact="foreman@site.example", words="Seen by John Nobody.")
    told = "".join(JournalEntry.objects.values_list("canonical", flat=True))
    assert report.tag.code not in told
    assert "foreman" not in told
    assert "Nobody" not in told
    assert sha256_hex(report.words.encode()) not in told
    assert detail()["has_contact"] is True


def test_photographs_are_kept_bare_beside_the_hash_of_what_was_sent(db, file_store):
    sent = [a_photograph(), a_photograph(colour=(9, 9, 9), kind="PNG")]
    photos = list(given_report(photos=sent).photos.order_by("position"))
    assert [photo.position for photo in photos] == [1, 2]
    assert [photo.original_sha256 for photo in photos] == [sha256_hex(one) for one in sent]
    for photo in photos:
        content = read_file(photo.file)
        assert b"Secret Owner" not in content
        assert Image.open(BytesIO(content)).format == "JPEG"
    stored = [path.read_bytes() for path in file_store.rglob("*") if path.is_file()]
    assert all(b"Secret Owner" not in content for content in stored)


def test_the_same_photograph_twice_is_one_file_in_two_places(db):
    photos = list(given_report(photos=[a_photograph(), a_photograph()]).photos.all())
    assert len({photo.file_id for photo in photos}) == 1
    assert len(photos) == 2


@pytest.mark.parametrize(
    ("facts", "field"),
    [
        pytest.param({"words": " "}, "words", id="no words"),
        pytest.param({"words": "x" * 2001}, "words", id="too many words"),
        pytest.param({"kind": "complaint"}, "kind", id="an unknown kind"),
        pytest.param({"contact": "x" * 201}, "contact", id="too long a contact"),
        pytest.param({"photos": [a_photograph()] * (MAX_PHOTOS + 1)}, "photos", id="five"),
    ],
)
def test_what_cannot_be_taken_leaves_nothing_behind(db, facts, field):
    tag = given_tag()
    entries = JournalEntry.objects.count()
    with pytest.raises(CannotReport) as refused:
        given_report(tag, **facts)
    assert refused.value.field == field
    assert not SiteReport.objects.exists()
    assert JournalEntry.objects.count() == entries


def test_a_failure_half_way_gives_the_number_back(db, monkeypatch):
    def broken(**_):
        raise IntegrityError

    tag = given_tag()
    with monkeypatch.context() as patch:
        patch.setattr(service, "append", broken)
        with pytest.raises(IntegrityError):
            given_report(tag, photos=[a_photograph()])
    assert not SiteReport.objects.exists()
    assert not SitePhoto.objects.exists()
    assert given_report(tag).code == "SR-00001"
