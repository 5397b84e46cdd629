from datetime import timedelta

import pytest
from django.urls import reverse

from inventory.rules.roles import Role
from inventory.rules.tag_code import grouped
from inventory.services.rewind import rewind_reel
from tests.certs.sites import given_report, given_tag
from tests.clients import client_of
from tests.factories import (
    MOMENT,
    given_heat,
    given_hold,
    given_mill,
    given_person,
    given_piece,
    given_reel,
)


def story(client, code, **more):
    return client.get(reverse("certs:trace"), {"code": code, **more}).text


def test_a_piece_is_traced_to_its_heat_and_its_customer(as_auditor, claims):
    text = story(as_auditor, claims.piece.code)
    assert "Invented Customer" in text
    assert "MD-1" in text
    assert claims.certificate.number in text
    assert text.count("<svg") > 2


@pytest.mark.parametrize("what", ["tag", "number", "test", "proof"])
def test_whatever_stands_on_it_leads_to_the_story(what, as_auditor, claims):
    code = {
        "tag": grouped(claims.tag.code),
        "number": claims.certificate.number,
        "test": claims.breaking.code,
        "proof": claims.proof.code,
    }[what]
    assert "Where it came from" in story(as_auditor, code)


def test_a_heat_is_found_by_its_number(as_auditor, tables):
    heat = given_heat(number="70707")
    given_piece(reel=given_reel(heats=[heat]))
    assert "Heat H-00001" in story(as_auditor, "70707")


def test_two_mills_with_one_heat_number_are_both_offered(as_auditor, tables):
    given_heat(number="70707")
    given_heat(number="70707", mill=given_mill("Other Invented Mill"))
    text = story(as_auditor, "70707")
    assert "H-00001" in text
    assert "H-00002" in text
    assert "Other Invented Mill" in text


def test_an_unknown_code_is_said_so_and_kept(as_auditor, db):
    text = story(as_auditor, "P-4711")
    assert "Nothing on record has the code" in text
    assert 'value="P-4711"' in text


def test_a_hold_is_told_first(as_auditor, claims):
    given_hold(claims.reel)
    text = story(as_auditor, claims.piece.code)
    assert "Under hold." in text
    assert "broken wires seen" in text


def test_a_point_of_a_piece_has_its_metre_on_the_mills_reel(as_auditor, tables):
    reel = given_reel(length_m=100)
    wound = rewind_reel(reel=reel, from_mm=50_000, to_mm=60_000, by=given_person(), at=MOMENT)
    piece = given_piece(reel=wound, length_m=4)
    # Turned once: metre x of the wound reel is metre 60 - x of the mill's.
    text = story(as_auditor, piece.code, at_mm="1.5")
    assert f"metre 58.500 m of reel {reel.code}" in text


def test_a_recall_names_exactly_the_pieces_of_the_stretch(as_auditor, tables):
    reel = given_reel(length_m=100)
    inside, beside = given_piece(reel=reel, length_m=10), given_piece(reel=reel, length_m=10)
    asked = {"code": reel.code, "from_mm": "0", "to_mm": "10"}
    text = as_auditor.get(reverse("certs:recall"), asked).text
    # Above stands the map, which shows the whole reel.
    reached = text[text.index("What it reaches") :]
    assert inside.code in reached
    assert beside.code not in reached


def test_a_recall_names_whom_to_call(as_auditor, claims):
    text = as_auditor.get(reverse("certs:recall"), {"code": claims.reel.code}).text
    assert "Whom to call" in text
    assert "Invented Customer" in text


def test_a_stretch_beyond_the_reel_is_refused_in_words(as_auditor, tables):
    asked = {"code": given_reel(length_m=10).code, "from_mm": "0", "to_mm": "999"}
    assert "ends at 10.000 m" in as_auditor.get(reverse("certs:recall"), asked).text


def test_metres_of_what_is_no_reel_are_refused_not_passed_over(as_auditor, tables):
    heat = given_heat(number="70707")
    asked = {"code": heat.code, "from_mm": "5"}
    assert "Metres are named only" in as_auditor.get(reverse("certs:recall"), asked).text


def test_a_point_asked_for_on_a_piece_leads_to_its_reel(as_auditor, tables):
    reel = given_reel(length_m=100)
    piece = given_piece(reel=reel, from_m=10, length_m=5)
    asked = {"code": piece.code, "metre_mm": "12", "span_mm": "20"}
    text = as_auditor.get(reverse("certs:around"), asked).text
    assert f"10.000 m to 15.000 m of reel {reel.code}" in text


def test_what_was_cut_around_a_point_is_listed(as_auditor, tables):
    reel = given_reel(length_m=100)
    near, far = given_piece(reel=reel, from_m=10, length_m=5), given_piece(reel=reel, from_m=80)
    asked = {"code": reel.code, "metre_mm": "12", "span_mm": "20"}
    text = as_auditor.get(reverse("certs:around"), asked).text
    assert near.code in text
    assert far.code not in text


def test_an_earlier_day_is_told_with_a_banner(as_auditor, claims):
    given_hold(claims.piece)
    day = MOMENT.date().isoformat()
    text = story(as_auditor, claims.piece.code, on=day)
    assert "As known on 2026-03-02, when that day ended" in text
    assert "left out" in text
    assert "every metre and where it went" not in text
    assert "when that day ended" not in story(as_auditor, claims.piece.code)


def test_a_day_before_it_was_recorded_is_refused(as_auditor, claims):
    text = story(as_auditor, claims.piece.code, on="2020-01-01")
    assert "was not on record when 2020-01-01 ended" in text


def test_a_day_to_come_is_refused(as_auditor, claims):
    text = story(as_auditor, claims.piece.code, on="9999-12-30")
    assert "has not ended" in text


def test_a_report_from_site_is_told_to_those_who_read_reports(as_auditor, claims):
    report = given_report(given_tag(claims.piece), at=MOMENT + timedelta(days=2))
    assert report.code in story(as_auditor, claims.piece.code)
    assert report.code not in story(as_auditor, claims.piece.code, on=MOMENT.date().isoformat())
    assert report.code not in story(client_of(Role.STORES), claims.piece.code)
