import json
from datetime import timedelta

import pytest

from certs.queries.tag_status import Standing, tag_answer
from certs.services.settle_report import (
    CannotSettle,
    close_report,
    forget_contact,
    hold_reported,
)
from inventory.models import Hold, JournalEntry
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from inventory.services.holds import CannotHold, release_hold
from tests.certs.sites import given_report, given_tag
from tests.factories import MOMENT, given_person, given_piece

LATER = MOMENT + timedelta(hours=1)


@pytest.fixture
def piece(db):
    return given_piece()


@pytest.fixture
def report(piece):
    return given_report(given_tag(piece), contact="foreman@site.example")


def deed(**more):
    return {"by": given_person(), "at": LATER} | more


def held(report, piece, **more):
    return hold_reported(report=report, subject=piece, **({"reason": "as reported"} | deed(**more)))


def closed(report, **more):
    return close_report(report=report, **({"reason": "cut up and scrapped"} | deed(**more)))


def last():
    entry = JournalEntry.objects.order_by("-number").first()
    return entry, json.loads(entry.canonical)["detail"]


def test_a_hold_from_a_report_stops_the_tag_at_once(report, piece):
    hold = held(report, piece)
    report.refresh_from_db()
    assert report.hold == hold
    assert hold.piece == piece
    answer = tag_answer(report.tag.code)
    assert answer.standing is Standing.DO_NOT_USE
    assert hold.code in answer.reasons[0]


def test_both_the_hold_and_the_report_are_journalled(report, piece):
    hold = held(report, piece)
    acts = list(JournalEntry.objects.order_by("-number").values_list("act", "subject")[:2])
    assert acts == [("settle_report", report.code), ("place_hold", hold.code)]
    assert last()[1]["hold"] == hold.code


def test_a_report_names_one_hold(report, piece):
    held(report, piece)
    with pytest.raises(CannotSettle, match="names a hold already"):
        held(report, piece.reel)
    assert Hold.objects.count() == 1


def test_what_the_rope_was_cut_from_may_be_held_instead(report, piece):
    held(report, piece.reel)
    assert tag_answer(report.tag.code).standing is Standing.DO_NOT_USE


def test_without_a_reason_nothing_is_held(report, piece):
    with pytest.raises(CannotHold):
        held(report, piece, reason=" ")
    report.refresh_from_db()
    assert report.hold is None
    assert not Hold.objects.exists()


def test_a_report_is_closed_once_with_words(report):
    done = closed(report)
    assert (done.closed_at, done.closed_by, done.close_reason) == (
        LATER,
        given_person(),
        "cut up and scrapped",
    )
    assert last()[1]["deed"] == "close"
    with pytest.raises(CannotSettle, match="closed already"):
        closed(report)


def test_closing_a_report_releases_no_hold(report, piece):
    hold = held(report, piece)
    closed(report)
    assert tag_answer(report.tag.code).standing is Standing.DO_NOT_USE
    release_hold(hold=hold, reason="looked over", **deed())
    assert tag_answer(report.tag.code).standing is Standing.NO_PAPER


def test_a_closed_report_places_no_hold(report, piece):
    closed(report)
    with pytest.raises(CannotSettle, match="closed already"):
        held(report, piece)
    assert not Hold.objects.exists()


def test_without_words_it_stays_open(report):
    with pytest.raises(CannotSettle) as refused:
        closed(report, reason="")
    assert refused.value.field == "reason"
    report.refresh_from_db()
    assert report.closed_at is None


@pytest.mark.parametrize("is_closed", [False, True], ids=["open", "closed"])
def test_the_contact_can_be_forgotten(report, is_closed):
    if is_closed:
        closed(report)
    forget_contact(report=report, **deed())
    report.refresh_from_db()
    assert report.contact == ""
    assert report.words
    assert last()[1]["deed"] == "forget_contact"
    with pytest.raises(CannotSettle, match="No contact"):
        forget_contact(report=report, **deed())


ACTS = {
    "hold": lambda report, by: hold_reported(
        report=report, subject=report.tag.piece, reason="so", by=by, at=LATER
    ),
    "close": lambda report, by: closed(report, by=by),
    "forget": lambda report, by: forget_contact(report=report, by=by, at=LATER),
}


@pytest.mark.parametrize("act", ACTS.values(), ids=ACTS)
@pytest.mark.parametrize("role", [role for role in Role if role is not Role.QA_OFFICER])
def test_only_the_qa_officer_settles_a_report(report, act, role):
    with pytest.raises(NotAllowed):
        act(report, given_person(role))
    report.refresh_from_db()
    assert (report.hold, report.closed_at, report.contact) == (None, None, "foreman@site.example")
    assert not Hold.objects.exists()
