"""How a story is laid out: what stands first, then map, genealogy, time line, tests, people."""

import re

import pytest
from django.urls import reverse

from inventory.services.holds import place_hold
from tests.factories import MOMENT, given_hold, given_person, given_piece, given_reel


def story(client, code, **more):
    return client.get(reverse("certs:trace"), {"code": code, **more}).text


def test_an_auditor_reads_what_stands_before_how_it_came_so(as_auditor, claims):
    text = story(as_auditor, claims.assembly.code)
    ids = ("now", "reel-map", "genealogy-part", "time-line", "tests", "papers", "people-part")
    places = [text.index(f'id="{key}"') for key in (*ids, "came-from", "went-to")]
    assert places == sorted(places)
    linked = re.findall(r'href="#([\w-]+)"', text[text.index('class="contents"') :])
    assert all(f'id="{key}"' in text for key in linked)


def test_no_id_stands_twice_on_the_page(as_auditor, claims):
    ids = re.findall(r'\bid="([^"]+)"', story(as_auditor, claims.assembly.code))
    assert sorted(ids) == sorted(set(ids))


def test_what_happened_is_told_with_who_did_it_and_its_entry(as_auditor, claims):
    text = story(as_auditor, claims.piece.code)
    line = text[text.index('class="time-line"') :]
    assert "Paper issued" in line
    assert reverse("certs:certificate", args=[claims.certificate.number]) in line
    assert str(claims.certificate.issued_by) in line
    assert "/journal/" in line


def test_a_day_on_which_something_changed_leads_to_the_story_of_that_day(as_auditor, claims):
    text = story(as_auditor, claims.piece.code)
    assert f"?code={claims.piece.code}&amp;on={MOMENT.date().isoformat()}" in text


def test_the_proof_load_is_drawn_beside_its_table(as_auditor, claims):
    text = story(as_auditor, claims.assembly.code)
    assert f'aria-labelledby="curve-{claims.proof.code}-title"' in text


@pytest.mark.parametrize("is_held", [True, False])
def test_a_hold_is_said_in_the_first_line(is_held, as_auditor, claims):
    if is_held:
        given_hold(claims.reel)
    text = story(as_auditor, claims.piece.code)
    assert ("under hold: do not use" in text[: text.index('id="reel-map"')]) == is_held


def test_a_stretch_of_a_reel_is_told_alone(as_auditor, tables):
    reel = given_reel(length_m=100)
    inside, beside = given_piece(reel=reel, length_m=10), given_piece(reel=reel, length_m=10)
    text = story(as_auditor, reel.code, from_mm="0", to_mm="10")
    pieces = text[text.index('id="pieces"') :]
    assert inside.code in pieces
    assert beside.code not in pieces
    assert "metres 0.000 m to 10.000 m" in text


def test_a_stretch_of_what_is_no_reel_is_refused_in_words(as_auditor, tables):
    piece = given_piece(reel=given_reel())
    assert "A stretch is of a reel" in story(as_auditor, piece.code, from_mm="0", to_mm="1")


def test_sixty_pieces_are_folded_and_every_one_is_in_the_table(as_auditor, tables):
    reel = given_reel(length_m=100)
    pieces = [given_piece(reel=reel, length_m=1) for _ in range(60)]
    text = story(as_auditor, reel.code)
    assert ">49 more</text>" in text
    assert text.count('href="#genealogy-table"') == 2
    table = text[text.index('<table id="genealogy-table"') :]
    assert all(piece.code in table for piece in pieces)


def test_every_metre_can_be_asked_for_without_script(as_auditor, tables):
    reel = given_reel(length_m=100)
    inside = given_piece(reel=reel, length_m=10)
    text = story(as_auditor, reel.code)
    assert f'data-drawing="map-{reel.code}"' in text
    asked = {"code": reel.code, "from_mm": "5", "to_mm": "6"}
    answer = as_auditor.get(reverse("certs:recall"), asked).text
    assert inside.code in answer
    assert f'id="map-{reel.code}"' in answer


def test_a_hold_from_goods_in_leads_to_its_check(as_auditor, claims):
    said = f"Receiving check {claims.check.code}: it does not agree"
    hold = place_hold(subject=claims.reel, reason=said, by=given_person(), at=MOMENT)
    text = as_auditor.get(reverse("inventory:hold", args=[hold.code])).text
    assert reverse("certs:receiving_check", args=[claims.check.code]) in text
