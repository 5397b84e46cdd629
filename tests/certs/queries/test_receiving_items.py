"""What receiving checks let a draft do."""

import pytest

from certs.queries.checklist import checklist, lacking
from inventory.services.holds import release_hold
from inventory.services.rewind import rewind_reel
from tests.certs.checks import given_bad_check, given_check, given_good_check
from tests.certs.claims import given_basis, given_breaking_test
from tests.certs.papers import given_assembly_draft, given_breaking_draft, given_cut_length_draft
from tests.factories import (
    MOMENT,
    given_assembly,
    given_mill_document,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = pytest.mark.usefixtures("tables")

NAME = "Receiving check"


def unchecked_reel(**facts):
    reel = given_reel(mill_document=given_mill_document(), **facts)
    given_basis(reel)
    return reel


def items(draft):
    return [item for item in checklist(draft, on=MOMENT.date()) if item.name == NAME]


def test_a_reel_that_was_never_checked_blocks_its_papers():
    reel = unchecked_reel()
    piece = given_piece(reel=reel)
    (item,) = items(given_cut_length_draft(piece))
    assert not item.is_met
    assert item.about == reel.code
    assert "received without a check. Measure it" in item.text
    sling = given_assembly(pieces=[given_piece(reel=reel, length_m=6)])
    assert [one.is_met for one in items(given_assembly_draft(sling, kind="2.1"))] == [False]


def test_what_does_not_agree_blocks_until_it_is_decided():
    reel = unchecked_reel()
    piece = given_piece(reel=reel)
    check = given_bad_check(reel)
    draft = given_cut_length_draft(piece)
    (item,) = items(draft)
    assert not item.is_met
    assert "measured diameter" in item.text
    assert {one.name for one in lacking(checklist(draft, on=MOMENT.date()))} == {NAME, "Holds"}
    release_hold(hold=check.hold, reason="Agreed by letter.", by=given_person(), at=MOMENT)
    (item,) = items(draft)
    assert item.is_met
    assert "Agreed by letter." in item.text


def test_what_cannot_be_said_is_told_and_blocks_nothing():
    reel = unchecked_reel()
    given_check(reel)
    (item,) = items(given_cut_length_draft(given_piece(reel=reel)))
    assert item.is_met
    assert "cannot be said: measured diameter" in item.text


def test_each_mills_reel_has_one_line_whatever_was_wound_from_it():
    reel, other = unchecked_reel(), unchecked_reel()
    wound = rewind_reel(reel=reel, from_mm=0, to_mm=90_000, by=given_person(), at=MOMENT)
    pieces = [given_piece(reel=one) for one in (wound, reel, other)]
    given_good_check(reel)
    found = [(item.about, item.is_met) for item in items(given_cut_length_draft(*pieces))]
    assert found == [(reel.code, True), (other.code, False)]


def test_a_report_on_a_broken_sample_needs_no_check():
    test = given_breaking_test(sample=given_sample(reel=unchecked_reel()), peak_n=99_000)
    assert items(given_breaking_draft(test)) == []
