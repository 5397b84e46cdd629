"""The grade of a reel follows from its mark and from every test on rope of its mill reel."""

import pytest

from certs.queries.checklist import checklist, lacking
from certs.queries.grade import grade_of
from certs.services.specify import name_basis
from inventory.services.rewind import rewind_reel
from tests.certs.claims import given_basis, given_breaking_test
from tests.certs.papers import given_cut_length_draft, given_documented_reel
from tests.factories import (
    MOMENT,
    given_hold,
    given_machine,
    given_mill_document,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def reel():
    return given_documented_reel()


def broken(reel, *, at_n: int, **facts):
    return given_breaking_test(sample=given_sample(reel=reel), peak_n=at_n, **facts)


def test_without_a_test_it_is_the_makers_word(reel):
    assert grade_of(reel).standing == "as_marked"


def test_a_break_above_what_the_grade_asks_supports_it(reel):
    test = broken(reel, at_n=105_000)
    claim = grade_of(reel)
    assert claim.standing == "supported"
    assert test.code in claim.reasons[0]


def test_the_lowest_of_several_breaks_decides(reel):
    broken(reel, at_n=105_000)
    broken(reel, at_n=90_000)
    assert grade_of(reel).standing == "refuted"


def test_a_break_on_a_machine_in_doubt_supports_nothing(reel):
    machine = given_machine()
    broken(reel, at_n=105_000, machine=machine)
    given_hold(machine)
    assert grade_of(reel).standing == "as_marked"


def test_rope_wound_on_has_the_grade_of_its_mill_reel(reel):
    broken(reel, at_n=105_000)
    wound = rewind_reel(reel=reel, from_mm=500_000, to_mm=600_000, by=given_person(), at=MOMENT)
    assert grade_of(wound).standing == "supported"


def test_meeting_a_declared_value_says_nothing_of_the_grade():
    reel = given_reel(mill_document=given_mill_document(), declared_force_n=80_000)
    name_basis(reel=reel, kind="declared", reason="as declared", by=given_person(), at=MOMENT)
    broken(reel, at_n=85_000)
    assert grade_of(reel).standing == "as_marked"


def test_a_mark_that_contradicts_the_designation_stops_the_certificate():
    reel = given_reel(mill_document=given_mill_document(), marked_grade="1960")
    given_basis(reel)
    draft = given_cut_length_draft(given_piece(reel=reel))
    names = [item.name for item in lacking(checklist(draft, on=MOMENT.date()))]
    assert names == ["Receiving check", "Tensile grade"]
