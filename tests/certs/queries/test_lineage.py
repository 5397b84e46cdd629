from itertools import pairwise

import pytest

from certs.queries.lineage import codes_in, lineage_of
from certs.queries.trace import trace_code
from inventory.documents.lineage_nodes import Lineage
from inventory.services.rewind import rewind_reel
from tests.factories import (
    MOMENT,
    given_assembly,
    given_delivery,
    given_fitting_lot,
    given_heat,
    given_person,
    given_piece,
    given_reel,
)


def lines(story):
    nodes, edges = lineage_of(story, held=())
    return {node.key for node in nodes}, {(edge.source, edge.target) for edge in edges}


@pytest.fixture
def sling(db):
    """Mill's reel R-00001, wound to R-00002; piece of it in a delivered sling with ferrules."""
    reel = given_reel(length_m=100)
    wound = rewind_reel(reel=reel, from_mm=0, to_mm=50_000, by=given_person(), at=MOMENT)
    assembly = given_assembly(pieces=[given_piece(reel=wound, length_m=5)])
    given_delivery(assembly)
    return assembly


def test_a_sling_is_drawn_from_heat_to_customer(sling):
    _, edges = lines(trace_code(sling.code))
    way = ["H-00001", "R-00001", "R-00002", "P-00002", "A-00001", "V-00001", "C-00001"]
    assert set(pairwise(way)) <= edges
    assert ("F-00001", "A-00001") in edges


@pytest.mark.parametrize("code", ["H-00001", "R-00001", "R-00002", "P-00002", "A-00001", "F-00001"])
def test_wherever_one_starts_the_drawing_is_sound(code, sling):
    nodes, edges = lineage_of(trace_code(code), held=())
    assert Lineage(nodes, edges).targets()
    assert [node.key for node in nodes if node.is_lit] == [code]


def test_what_is_held_is_marked(sling):
    nodes, _ = lineage_of(trace_code(sling.code), held={"R-00002"})
    assert [node.key for node in nodes if node.is_held] == ["R-00002"]


def test_no_line_is_drawn_where_the_lot_is_not_known(db):
    heat = given_heat()
    first, second = (given_fitting_lot(heat=heat) for _ in range(2))
    given_assembly(lot=first)
    _, edges = lines(trace_code(heat.code))
    assert (heat.code, first.code) in edges
    assert not {(first.code, "A-00001"), (second.code, "A-00001")} & edges


def test_the_one_lot_of_a_heat_leads_to_its_assembly(db):
    heat = given_heat()
    lot = given_fitting_lot(heat=heat)
    given_assembly(lot=lot)
    assert (lot.code, "A-00001") in lines(trace_code(heat.code))[1]


def test_the_codes_of_a_story_are_those_that_can_be_held(sling):
    assert {"R-00001", "R-00002", "P-00002", "A-00001"} <= codes_in(trace_code(sling.code))
