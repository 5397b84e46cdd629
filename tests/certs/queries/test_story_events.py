"""What happened to a story, read off the journal: in order, grouped, and at a fixed cost."""

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from certs.queries.story_events import days_of, events_of
from certs.queries.trace import trace_code
from inventory.services.cut import cut_piece
from inventory.services.holds import place_hold, release_hold
from tests.certs.sites import given_report, given_tag
from tests.factories import MOMENT, given_hold, given_person, given_piece, given_reel

pytestmark = pytest.mark.django_db


def deeds(code, **more):
    asked = {"until": None, "reads_reports": True} | more
    return [(event.act, event.codes) for event in events_of(trace_code(code), **asked)]


def test_what_happened_is_told_in_order_with_who_did_it(tables):
    reel = given_reel()
    piece = given_piece(reel=reel)
    hold = given_hold(piece)
    told = events_of(trace_code(piece.code), until=None, reads_reports=True)
    assert [(event.act, event.codes) for event in told][-3:] == [
        ("receive_reel", (reel.code,)),
        ("cut_piece", (piece.code,)),
        ("place_hold", (hold.code,)),
    ]
    assert [event.by for event in told][-1] == hold.placed_by


def test_what_one_person_cut_on_one_day_is_one_event(tables):
    reel, hand = given_reel(length_m=100), given_person()
    cuts = {"reel": reel, "purpose": "supply", "by": hand}
    same = [
        cut_piece(**cuts, from_mm=at * 1000, length_mm=1000, at=MOMENT + timedelta(minutes=at))
        for at in range(3)
    ]
    later = cut_piece(**cuts, from_mm=9000, length_mm=1000, at=MOMENT + timedelta(days=2))
    cut = [codes for act, codes in deeds(reel.code) if act == "cut_piece"]
    assert cut == [tuple(piece.code for piece in same), (later.code,)]


def test_the_piece_beside_it_has_a_story_of_its_own(tables):
    reel = given_reel(length_m=100)
    piece, beside = given_piece(reel=reel), given_piece(reel=reel)
    assert beside.code not in {code for _, codes in deeds(piece.code) for code in codes}


def test_what_came_after_a_moment_is_left_out(tables):
    reel, officer = given_reel(), given_person()
    hold = place_hold(subject=reel, reason="wires", by=officer, at=MOMENT + timedelta(days=3))
    release_hold(hold=hold, reason="no fault", by=officer, at=MOMENT + timedelta(days=5))
    until = MOMENT + timedelta(days=4)
    acts = [act for act, _ in deeds(reel.code, until=until)]
    assert "place_hold" in acts
    assert "release_hold" not in acts


def test_reports_from_site_are_told_to_those_who_read_them(tables):
    piece = given_piece(reel=given_reel())
    report = given_report(given_tag(piece))
    assert ("settle_report", (report.code,)) in deeds(piece.code)
    assert ("settle_report", (report.code,)) not in deeds(piece.code, reads_reports=False)


def test_the_days_are_those_on_which_something_changed_the_last_first(tables):
    reel = given_reel()
    place_hold(subject=reel, reason="wires", by=given_person(), at=MOMENT + timedelta(days=7))
    events = events_of(trace_code(reel.code), until=None, reads_reports=False)
    received, held = (timezone.localdate(at) for at in (MOMENT, MOMENT + timedelta(days=7)))
    assert days_of(events, before=held + timedelta(days=1)) == [held, received]
    assert days_of(events, before=held) == [received]


def test_a_longer_story_costs_no_more_queries(tables):
    reel = given_reel(length_m=100)
    given_piece(reel=reel)

    def queries():
        story = trace_code(reel.code)
        with CaptureQueriesContext(connection) as caught:
            events_of(story, until=None, reads_reports=True)
        return len(caught)

    first = queries()
    for _ in range(5):
        given_piece(reel=reel)
    assert queries() == first
