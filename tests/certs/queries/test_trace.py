"""Stories and recalls: metres worked out by hand on one reel of 100 m.

Heat A lies in metres 0 to 60, heat B from there on. Metres 40 to 90 were wound on to another
reel and turned round, so that its metre x is metre 90 - x of the mill's reel.
"""

import json
from types import SimpleNamespace

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from certs.queries.trace import recall_heat, recall_lot, recall_reel, trace_code
from certs.queries.trace_find import CannotTrace, find_traceable
from certs.services.tags import issue_tag
from inventory.rules.refusal import Refusal
from inventory.services.cut import reverse_cut
from inventory.services.receive import HeatTie
from inventory.services.rewind import rewind_reel
from tests.certs.checks import given_good_check
from tests.certs.claims import given_basis, given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_breaking_draft,
    given_cut_length_draft,
    issued,
)
from tests.factories import (
    MOMENT,
    given_assembly,
    given_customer,
    given_delivery,
    given_fitting_lot,
    given_heat,
    given_hold,
    given_machine,
    given_mill,
    given_mill_document,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def rope(tables):
    """The mill's reel, the reel wound from it, and three pieces: at the mill's metres 2, 66, 74."""
    heat_a, heat_b = given_heat(), given_heat()
    ties = [HeatTie(heat_a, 0, 60_000), HeatTie(heat_b, 60_000, 100_000)]
    reel = given_reel(length_m=100, heats=ties, mill_document=given_mill_document())
    given_good_check(reel)
    given_basis(reel)
    wound = rewind_reel(reel=reel, from_mm=40_000, to_mm=90_000, by=given_person(), at=MOMENT)
    return SimpleNamespace(
        heat_a=heat_a,
        heat_b=heat_b,
        reel=reel,
        wound=wound,
        at_2=given_piece(reel=reel, from_m=2, length_m=5),
        at_66=given_piece(reel=wound, from_m=20, length_m=4),
        at_74=given_piece(reel=wound, from_m=10, length_m=6),
    )


def tagged(**thing):
    return issue_tag(**thing, by=given_person(), at=MOMENT)


def codes(rows):
    return [row["code"] for row in rows]


def supplied(rows):
    return {row["code"] for row in rows if row["purpose"] == "supply"}


def test_a_piece_is_told_back_to_the_heat_in_its_own_metres(rope):
    (back,) = trace_code(rope.at_74.code)["back"]
    placed = [(reel["code"], reel["from_mm"], reel["to_mm"]) for reel in back["reels"]]
    assert placed == [(rope.wound.code, 10_000, 16_000), (rope.reel.code, 74_000, 80_000)]
    assert [(h["code"], h["from_mm"], h["to_mm"]) for h in back["heats"]] == [
        (rope.heat_b.code, 74_000, 80_000)
    ]
    assert codes(back["mill_documents"]) == [rope.reel.mill_document.code]


def test_a_point_of_a_piece_has_its_metre_on_every_reel(rope):
    point = trace_code(rope.at_74.code, at_mm=1_000)["point"]
    assert point["on_reels"] == [
        {"reel": rope.wound.code, "metre_mm": 11_000},
        {"reel": rope.reel.code, "metre_mm": 79_000},
    ]
    assert codes(point["heats"]) == [rope.heat_b.code]
    # Of the pieces within 10 m of metre 79 of the mill's reel, 70 is the end of the other one.
    beside = {row["piece"]: row["distance_mm"] for row in point["around"]}
    assert (beside[rope.at_74.code], beside[rope.at_66.code]) == (0, 9_000)


def test_the_last_point_of_a_reel_has_a_heat(rope):
    assert codes(trace_code(rope.reel.code, at_mm=100_000)["point"]["heats"]) == [rope.heat_b.code]


@pytest.mark.parametrize(("at_mm", "word"), [(6_001, "is not on piece"), (-1, "is not on piece")])
def test_a_point_off_the_piece_is_refused(rope, at_mm, word):
    with pytest.raises(Refusal, match=word):
        trace_code(rope.at_74.code, at_mm=at_mm)


def test_a_heat_has_no_point(rope):
    with pytest.raises(CannotTrace, match="a piece or on a reel"):
        trace_code(rope.heat_a.code, at_mm=1)


@pytest.mark.parametrize(
    ("from_m", "to_m", "reached"),
    [
        pytest.param(75, 78, {"at_74"}, id="inside one piece, through the rewind"),
        pytest.param(70, 74, set(), id="between two pieces"),
        pytest.param(69, 75, {"at_66", "at_74"}, id="the ends of two pieces"),
        pytest.param(0, 40, {"at_2"}, id="not what was rewound"),
        pytest.param(None, None, {"at_2", "at_66", "at_74"}, id="the whole reel"),
    ],
)
def test_a_stretch_recalls_the_pieces_cut_of_it_and_no_others(rope, from_m, to_m, reached):
    stretch = [None if metre is None else metre * 1000 for metre in (from_m, to_m)]
    recall = recall_reel(rope.reel, from_mm=stretch[0], to_mm=stretch[1])
    assert supplied(recall["pieces"]) == {getattr(rope, name).code for name in reached}


def test_a_recall_says_which_metres_of_the_reel_reached_a_piece(rope):
    recall = recall_reel(rope.reel, from_mm=75_000, to_mm=78_000)
    piece = next(row for row in recall["pieces"] if row["code"] == rope.at_74.code)
    assert (piece["asked_from_mm"], piece["asked_to_mm"]) == (74_000, 80_000)
    assert (piece["touched"], piece["depth"]) == ([[75_000, 78_000]], 1)


def test_a_stretch_past_the_end_is_refused(rope):
    with pytest.raises(CannotTrace, match=r"ends at 100\.000 m"):
        recall_reel(rope.reel, from_mm=0, to_mm=100_001)


def test_a_heat_recalls_its_metres_alone(rope):
    assert supplied(recall_heat(rope.heat_a)["pieces"]) == {rope.at_2.code}
    assert supplied(recall_heat(rope.heat_b)["pieces"]) == {rope.at_66.code, rope.at_74.code}


def test_a_heat_recalls_the_fittings_made_of_it(rope):
    lot = given_fitting_lot(heat=rope.heat_a)
    recall = recall_heat(rope.heat_a)
    assert codes(recall["made_lots"]) == [lot.code]


def test_a_lot_recalls_its_assemblies_and_their_customers(rope):
    lot = given_fitting_lot()
    assembly = given_assembly(pieces=[rope.at_74], lot=lot)
    delivery = given_delivery(assembly)
    recall = recall_lot(lot)
    assert recall["assemblies"] == [{"code": assembly.code, "delivery": delivery.code}]
    assert codes(recall["customers"]) == [delivery.customer.code]
    assert recall["counts"]["delivered_pieces"] == 1


def test_an_assembly_tells_its_fittings_and_each_leg(rope):
    lot = given_fitting_lot(heat=given_heat(mill=given_mill("Invented Foundry")))
    assembly = given_assembly(kind="two_leg", pieces=[rope.at_66, rope.at_74], lot=lot)
    story = trace_code(assembly.code)
    assert [back["piece"] for back in story["back"]] == [rope.at_66.code, rope.at_74.code]
    assert [(one["code"], one["heat"]) for one in story["fitting_lots"]] == [
        (lot.code, lot.heat.code)
    ]


def test_only_who_was_delivered_to_or_certified_is_called(rope):
    paper = issued(given_cut_length_draft(rope.at_74, customer=given_customer("Invented Reader")))
    given_cut_length_draft(rope.at_74, customer=given_customer("Invented Asker"))
    given_delivery(rope.at_66, customer=given_customer("Invented Receiver"))
    recall = recall_heat(rope.heat_b)
    called = {row["name"]: row["certificates"] for row in recall["customers"]}
    assert called == {"Invented Reader": [paper.number], "Invented Receiver": []}
    assert [row["state"] for row in recall["certificates"]] == ["issued", "draft"]
    assert recall["counts"]["certificates_in_force"] == 1


def test_a_certificate_tells_which_pieces_were_reached(rope):
    given_cut_length_draft(rope.at_2, rope.at_74)
    (paper,) = recall_heat(rope.heat_b)["certificates"]
    assert paper["pieces"] == [rope.at_74.code]


def test_a_report_is_told_with_the_sample_that_was_broken(rope):
    sample = given_sample(reel=rope.wound)
    test = given_breaking_test(sample=sample, peak_n=120_000)
    given_breaking_draft(test)
    (paper,) = trace_code(sample.code)["certificates"]
    assert (paper["breaking_test"], paper["pieces"]) == (test.code, [sample.code])


def test_a_stretch_reaches_the_claims_of_its_own_pieces_alone(rope):
    for piece in (rope.at_66, rope.at_74):
        given_cut_length_draft(piece)
        tagged(piece=piece)
    recall = recall_reel(rope.reel, from_mm=75_000, to_mm=78_000)
    assert [paper["pieces"] for paper in recall["certificates"]] == [[rope.at_74.code]]
    assert [tag["thing"] for tag in recall["tags"]] == [rope.at_74.code]


def test_tags_are_told_on_pieces_and_on_assemblies(rope):
    assembly = given_assembly(pieces=[rope.at_66], lot=given_fitting_lot())
    tags = [tagged(piece=rope.at_74), tagged(assembly=assembly), tagged(piece=rope.at_2)]
    told = [(row["code"], row["thing"]) for row in recall_heat(rope.heat_b)["tags"]]
    assert told == [(tags[0].code, rope.at_74.code), (tags[1].code, assembly.code)]


def test_holds_tell_whether_they_reach_the_thing_or_a_part(rope):
    on_stretch = given_hold(rope.reel, from_mm=70_000, to_mm=80_000)
    on_piece = given_hold(rope.at_66)
    given_hold(rope.at_2)
    told = {row["code"]: row["reaches"] for row in trace_code(rope.wound.code)["holds"]}
    assert told == {on_stretch.code: "asked", on_piece.code: "part"}


def test_a_hold_on_the_thing_itself_is_told_once(rope):
    hold = given_hold(rope.at_74)
    holds = trace_code(rope.at_74.code)["holds"]
    assert [(row["code"], row["reaches"]) for row in holds] == [(hold.code, "asked")]


def test_a_hold_on_other_metres_of_a_reel_is_not_told(rope):
    given_hold(rope.reel, from_mm=95_000, to_mm=99_000)
    assert recall_heat(rope.heat_a)["holds"] == []
    assert len(recall_heat(rope.heat_b)["holds"]) == 1


def test_every_test_on_the_rope_of_the_mill_is_told_to_each_piece(rope):
    test = given_breaking_test(sample=given_sample(reel=rope.wound), peak_n=120_000)
    story = trace_code(rope.at_2.code)
    assert (codes(story["rope_tests"]), story["breaking_tests"]) == ([test.code], [])


def test_proof_loads_are_told_with_the_assembly(rope):
    assembly = given_assembly(pieces=[rope.at_74], lot=given_fitting_lot())
    test = given_proof_test(assembly=assembly)
    assert codes(trace_code(rope.at_74.code)["proof_tests"]) == [test.code]


def test_tests_holds_papers_and_tags_lead_to_their_thing(rope):
    assembly = given_assembly(pieces=[rope.at_74], lot=given_fitting_lot())
    sample = given_sample(reel=rope.reel)
    broken = given_breaking_test(sample=sample, peak_n=120_000)
    led = {
        given_proof_test(assembly=assembly).code: assembly,
        given_assembly_draft(assembly).draft_code: assembly,
        tagged(assembly=assembly).code: assembly,
        broken.code: sample,
        given_breaking_draft(broken).draft_code: sample,
        given_cut_length_draft(rope.at_2).draft_code: rope.at_2,
        given_hold(rope.heat_a).code: rope.heat_a,
        given_delivery(rope.at_66).code: rope.at_66,
        rope.reel.mill_document.code: rope.reel,
    }
    found = {code: find_traceable(code).thing for code in led}
    assert found == led


def test_the_code_of_an_issued_paper_leads_to_its_piece(rope):
    paper = issued(given_cut_length_draft(rope.at_2))
    assert trace_code(str(paper.number).lower())["asked"]["code"] == rope.at_2.code
    own_code = paper.tags.get().code
    assert find_traceable(own_code).thing == rope.at_2
    told = [(tag["code"], tag["on"], tag["thing"]) for tag in trace_code(own_code)["tags"]]
    assert told == [(own_code, "certificate", paper.number)]


def test_a_paper_on_several_pieces_offers_them(rope):
    draft = given_cut_length_draft(rope.at_2, rope.at_74)
    with pytest.raises(CannotTrace, match="trace one of them") as refused:
        trace_code(draft.draft_code)
    assert refused.value.choices == (rope.at_2.code, rope.at_74.code)


@pytest.mark.parametrize("code", ["P-99999", "no such thing", "", "0" * 16])
def test_an_unknown_code_is_refused(db, code):
    with pytest.raises(CannotTrace, match="Nothing on record"):
        trace_code(code)


def test_a_firm_or_a_machine_has_no_story(db):
    for code in (given_mill().code, given_machine().code, given_hold(given_machine()).code):
        with pytest.raises(CannotTrace, match="can be traced"):
            trace_code(code)


def test_a_reversed_cut_is_in_no_recall(rope):
    reverse_cut(cut=rope.at_2, reason="wrong reel", by=given_person(), at=MOMENT)
    assert supplied(recall_heat(rope.heat_a)["pieces"]) == set()


def queries_for(code):
    with CaptureQueriesContext(
        connection,
    ) as asked:
        json.dumps(trace_code(code))
    return len(asked)


def full(reel):
    """A tested, tagged, drafted and delivered assembly and a tagged piece of a reel."""
    assembly = given_assembly(pieces=[given_piece(reel=reel)], lot=given_fitting_lot())
    given_proof_test(assembly=assembly)
    given_assembly_draft(assembly)
    piece = given_piece(reel=reel)
    given_cut_length_draft(piece)
    tagged(piece=piece)
    given_delivery(piece, assembly, customer=given_customer())
    given_breaking_test(sample=given_sample(reel=reel), peak_n=120_000)
    given_hold(piece)


def test_a_story_costs_as_many_queries_for_many_pieces_as_for_one(tables):
    reel = given_reel(mill_document=given_mill_document())
    given_basis(reel)
    full(reel)
    heat = reel.heat_ties.get().heat
    once = [queries_for(reel.code), queries_for(heat.code)]
    for _ in range(3):
        full(reel)
    assert [queries_for(reel.code), queries_for(heat.code)] == once
