"""What tests of wires say of a reel: its grade, the way to a break, and what a draft lacks."""

from datetime import timedelta

import pytest

from certs.management.story_text import story_text
from certs.queries.checklist import checklist, lacking
from certs.queries.derivation import certified_force
from certs.queries.grade import grade_of
from certs.queries.trace import trace_code
from certs.queries.trace_find import find_traceable
from certs.queries.wire_facts import wire_facts
from certs.queries.wire_tests import route_of, wire_test_of, wire_tests_on, wires_of
from certs.rules.force_route import Standing
from certs.services.reverse_test import reverse_test
from certs.services.specify import name_basis
from inventory.rules.canonical import canonical_text
from inventory.services.rewind import rewind_reel
from tests.certs.claims import given_breaking_test
from tests.certs.papers import given_breaking_draft, given_cut_length_draft, given_documented_reel
from tests.certs.wires import (
    given_paper_test,
    given_wire_machine,
    given_wire_test,
    wires_of_7x7,
)
from tests.factories import (
    MOMENT,
    given_fitting_lot,
    given_hold,
    given_machine,
    given_mill_document,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = pytest.mark.usefixtures("tables")

WEAK = wires_of_7x7(1500)
# 0.388 x 12^2 x 1770 / 1000 (EN 12385-4, 6x7-WSC) is 98.9 kN; these lie above and below.
ENOUGH_N, TOO_LITTLE_N = 99_000, 90_000


@pytest.fixture
def reel(db):
    return given_documented_reel()


def broken(reel, *, at_n, **facts):
    return given_breaking_test(sample=given_sample(reel=reel), peak_n=at_n, **facts)


def missing(draft):
    return {item.name: item.text for item in lacking(checklist(draft, on=MOMENT.date()))}


def test_wires_are_read_back_as_they_were_given(reel):
    test = given_wire_test(reel=reel)
    assert wires_of(wire_test_of(test.code)) == wires_of_7x7()
    assert wire_test_of("WT-99999") is None


def test_wires_within_their_band_support_the_grade(reel):
    test = given_wire_test(reel=reel)
    claim = grade_of(reel)
    assert (claim.stated, claim.standing) == ("1770", "supported")
    assert claim.reasons[0].startswith(f"{test.code}: 0 of 7 wires lie outside")


def test_wires_below_their_band_refute_the_grade(reel):
    given_wire_test(reel=reel, wires=WEAK)
    assert grade_of(reel).standing == "refuted"


def test_one_refuting_test_weighs_more_than_several_that_support(reel):
    given_wire_test(reel=reel)
    given_wire_test(reel=reel, wires=WEAK)
    given_wire_test(reel=reel)
    assert grade_of(reel).standing == "refuted"


def test_a_machine_in_doubt_supports_nothing_and_still_refutes(reel):
    machine = given_machine(is_calibrated=False)
    given_wire_test(reel=reel, machine=machine)
    assert grade_of(reel).standing == "as_marked"
    given_wire_test(reel=reel, machine=machine, wires=WEAK)
    assert grade_of(reel).standing == "refuted"


def test_a_held_machine_is_told_as_a_doubt(reel):
    machine = given_wire_machine()
    given_wire_test(reel=reel, machine=machine)
    hold = given_hold(machine)
    assert hold.code in wire_tests_on(reel)[0].doubts[0]


def test_a_break_decides_and_the_wires_are_told_beside_it(reel):
    given_wire_test(reel=reel, wires=WEAK)
    broken(reel, at_n=ENOUGH_N)
    claim = grade_of(reel)
    assert claim.standing == "supported"
    assert any("WT-00001" in reason for reason in claim.reasons)


def test_wires_bear_on_the_grade_whatever_the_basis():
    reel = given_reel(mill_document=given_mill_document(), declared_force_n=80_000)
    name_basis(reel=reel, kind="declared", reason="as declared", by=given_person(), at=MOMENT)
    given_wire_test(reel=reel)
    assert grade_of(reel).standing == "supported"


def test_rope_wound_on_shares_the_tests_of_its_mill_reel(reel):
    wound = rewind_reel(reel=reel, from_mm=500_000, to_mm=600_000, by=given_person(), at=MOMENT)
    given_wire_test(reel=wound, wires=WEAK)
    assert len(wire_tests_on(reel)) == 1
    assert route_of(reel).blocks


def test_a_force_that_falls_short_stops_every_paper_until_a_break(reel):
    draft = given_cut_length_draft(given_piece(reel=reel))
    test = given_wire_test(reel=reel, wires=WEAK)
    before = certified_force(reel)
    assert f"the force calculated from wires in {test.code}" in missing(draft)["Wire test"]
    broken(reel, at_n=ENOUGH_N)
    assert missing(draft) == {}
    assert certified_force(reel) == before


def test_a_break_that_fails_de_rates_and_lets_the_paper_go_out(reel):
    draft = given_cut_length_draft(given_piece(reel=reel))
    given_wire_test(reel=reel, wires=WEAK)
    broken(reel, at_n=TOO_LITTLE_N)
    assert "Wire test" not in missing(draft)
    assert route_of(reel).standing is Standing.DERATED
    assert certified_force(reel).stated * 1000 == TOO_LITTLE_N


@pytest.mark.parametrize(
    ("at_n", "facts"),
    [
        pytest.param(TOO_LITTLE_N, {"break_distance_mm": 10}, id="discounted: near the grip"),
        pytest.param(ENOUGH_N, {"machine": None}, id="machine not in calibration"),
    ],
)
def test_a_break_that_proves_nothing_settles_nothing(reel, at_n, facts):
    given_wire_test(reel=reel, wires=WEAK)
    if "machine" in facts:
        facts = {"machine": given_machine(is_calibrated=False)}
    broken(reel, at_n=at_n, **facts)
    assert route_of(reel).blocks


def test_a_break_before_the_wires_settles_nothing(reel):
    broken(reel, at_n=ENOUGH_N)
    given_wire_test(reel=reel, wires=WEAK, tested_at=MOMENT + timedelta(minutes=1))
    assert route_of(reel).standing is Standing.BREAK_A_SAMPLE


def test_the_report_of_a_break_goes_out_though_the_rope_is_stopped(reel):
    test = broken(reel, at_n=ENOUGH_N)
    given_wire_test(reel=reel, wires=WEAK, tested_at=MOMENT + timedelta(minutes=1))
    assert "Wire test" not in missing(given_breaking_draft(test))


def test_a_reversed_test_speaks_of_nothing(reel):
    test = given_wire_test(reel=reel, wires=WEAK)
    reverse_test(test=test, reason="another reel", by=given_person(), at=MOMENT)
    assert route_of(reel).standing is Standing.NOTHING
    assert grade_of(reel).standing == "as_marked"
    assert wire_facts(reel) is None


def test_the_facts_for_a_paper_are_plain_and_whole(reel):
    given_wire_test(reel=reel)
    given_paper_test(reel, spinning_factors=(), spinning_source="")
    facts = wire_facts(reel)
    assert canonical_text(facts)
    measured, paper = facts["tests"]
    assert (measured["method"], paper["method"]) == (2, 3)
    assert measured["machine"]["calibration"]["machine_class"] == "1"
    assert measured["derivations"][0]["unit"] == "N"
    assert (paper["machine"], paper["calculated_n"], paper["sample"]) == (None, None, "")
    assert facts["route"]["standing"] == "calculated"


@pytest.mark.parametrize("count", [1, 3])
def test_the_number_of_queries_does_not_grow_with_the_tests(
    reel, count, django_assert_max_num_queries
):
    for _ in range(count):
        given_wire_test(reel=reel)
    with django_assert_max_num_queries(5):
        wire_tests_on(reel)


def test_the_code_of_a_test_leads_to_its_sample_or_its_reel(reel):
    test = given_wire_test(reel=reel)
    assert find_traceable(test.code.lower()).thing == test.sample
    assert find_traceable(given_paper_test(reel).code).thing == reel


def test_a_story_tells_the_wire_tests_of_its_rope_wherever_it_was_wound(reel):
    wound = rewind_reel(reel=reel, from_mm=500_000, to_mm=600_000, by=given_person(), at=MOMENT)
    measured = given_wire_test(reel=wound)
    paper = given_paper_test(reel, spinning_factors=(), spinning_source="")
    reverse_test(test=measured, reason="another reel", by=given_person(), at=MOMENT)
    piece = given_piece(reel=reel)
    story = trace_code(piece.code)
    assert [(row["code"], row["method"]) for row in story["wire_tests"]] == [
        (measured.code, 2),
        (paper.code, 3),
    ]
    assert (story["wire_tests"][0]["reversed_at"], story["wire_tests"][1]["sample"]) == (
        MOMENT.isoformat(),
        "",
    )
    text = story_text(story)
    assert f"{measured.code}  meets:" in text
    assert f"{paper.code}  cannot_say: no force, 98.9 kN required" in text


def test_a_story_of_no_rope_tells_no_wire_tests():
    assert trace_code(given_fitting_lot().code)["wire_tests"] == []
