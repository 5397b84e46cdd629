"""Provenance held against the terms of the W3C Recommendation PROV-O of 30 April 2013.

The terms with their domains and ranges are written down from section 3 ("Cross reference") of the
Recommendation: from memory, for no copy of it is at hand here; where they warn, look it up.
"""

from datetime import datetime
from urllib.parse import parse_qs, urlsplit

import pytest

from certs.documents.provenance import PROV, provenance
from certs.queries.trace import trace_code
from certs.services.withdraw import withdraw_certificate
from inventory.services.rewind import rewind_reel
from tests.certs.checks import given_good_check
from tests.certs.claims import given_basis, given_breaking_test, given_proof_test
from tests.certs.papers import given_breaking_draft, given_cut_length_draft, issued
from tests.certs.wires import given_paper_test
from tests.factories import (
    MOMENT,
    given_assembly,
    given_delivery,
    given_fitting_lot,
    given_heat,
    given_mill_document,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = pytest.mark.django_db
ORIGIN = "https://rope.example"
ENTITY, ACTIVITY, AGENT = "prov:Entity", "prov:Activity", "prov:Organization"
# Property: class of the subject, class of the object. Organization is a subclass of Agent.
TERMS = {
    "wasDerivedFrom": (ENTITY, ENTITY),
    "wasRevisionOf": (ENTITY, ENTITY),
    "wasGeneratedBy": (ENTITY, ACTIVITY),
    "wasInvalidatedBy": (ENTITY, ACTIVITY),
    "wasAttributedTo": (ENTITY, AGENT),
    "used": (ACTIVITY, ENTITY),
    "wasInformedBy": (ACTIVITY, ACTIVITY),
    "wasAssociatedWith": (ACTIVITY, AGENT),
}
DATES = {"generatedAtTime": ENTITY, "endedAtTime": ACTIVITY}


@pytest.fixture
def rope(tables):
    reel = given_reel(length_m=100, mill_document=given_mill_document())
    given_good_check(reel)
    given_basis(reel)
    wound = rewind_reel(reel=reel, from_mm=0, to_mm=60_000, by=given_person(), at=MOMENT)
    piece = given_piece(reel=wound, length_m=4)
    leg = given_piece(reel=wound, length_m=3)
    lot = given_fitting_lot(heat=given_heat())
    assembly = given_assembly(pieces=[leg], lot=lot)
    given_proof_test(assembly=assembly)
    given_paper_test(reel)
    broken = given_breaking_test(sample=given_sample(reel=wound), peak_n=120_000)
    issued(given_breaking_draft(broken))
    paper = issued(given_cut_length_draft(piece))
    withdraw_certificate(certificate=paper, reason="wrong name", by=given_person(), at=MOMENT)
    given_delivery(piece, assembly)
    return {
        "reel": reel.code, "wound": wound.code, "piece": piece.code, "assembly": assembly.code,
        "lot": lot.code, "sample": broken.sample.code, "paper": str(paper.number),
        "heat": reel.heat_ties.get().heat.code,
    }  # fmt: skip


def graph_of(code, recorded=()):
    document = provenance(trace_code(code), recorded=dict(recorded), origin=ORIGIN)
    return document["@context"], {node["@id"]: node for node in document["@graph"]}


def id_of(code):
    return f"{ORIGIN}/trace/?code={code}"


@pytest.mark.parametrize("what", ["reel", "wound", "piece", "assembly", "lot", "sample", "heat"])
def test_every_statement_uses_a_term_as_the_recommendation_means_it(rope, what):
    context, nodes = graph_of(rope[what], recorded={rope["reel"]: MOMENT.isoformat()})
    assert context["prov"] == PROV == "http://www.w3.org/ns/prov#"
    for node in nodes.values():
        assert node["@type"] in {ENTITY, ACTIVITY, AGENT}
        for name in node.keys() - {"@id", "@type", "label"}:
            if name in DATES:
                assert node["@type"] == DATES[name]
                assert datetime.fromisoformat(node[name]).tzinfo is not None
                assert context[name] == {"@id": f"prov:{name}", "@type": "xsd:dateTime"}
                continue
            subject, target = TERMS[name]
            assert node["@type"] == subject, (node, name)
            assert {nodes[one]["@type"] for one in node[name]} == {target}, (node, name)
            assert context[name] == {"@id": f"prov:{name}", "@type": "@id"}


@pytest.mark.parametrize("what", ["piece", "assembly", "sample"])
def test_the_way_from_a_thing_leads_to_its_heat(rope, what):
    _, nodes = graph_of(rope[what])
    reached, at = set(), {id_of(rope[what])}
    while at:
        reached |= at
        at = {up for one in at for up in nodes[one].get("wasDerivedFrom", [])} - reached
    assert {id_of(rope["heat"]), id_of(rope["reel"]), id_of(rope["wound"])} <= reached


def test_a_paper_leads_to_what_it_speaks_of_and_to_its_end(rope):
    _, nodes = graph_of(rope["piece"])
    paper = nodes[id_of(rope["paper"])]
    assert paper["wasDerivedFrom"] == [id_of(rope["piece"])]
    (end,) = paper["wasInvalidatedBy"]
    assert nodes[end]["label"].endswith("withdrawn")


def test_a_test_report_was_informed_by_the_test(rope):
    _, nodes = graph_of(rope["sample"])
    issues = [node for node in nodes.values() if "wasInformedBy" in node]
    (issue,) = issues
    assert nodes[issue["wasInformedBy"][0]]["label"].startswith("breaking-force test BT-")


def test_every_thing_is_named_by_an_address_that_has_its_code(rope):
    _, nodes = graph_of(rope["assembly"])
    for address in nodes:
        parts = urlsplit(address)
        assert (parts.scheme, parts.netloc, parts.path) == ("https", "rope.example", "/trace/")
        assert parse_qs(parts.query)["code"]


def test_nobody_is_a_person_in_it(rope):
    _, nodes = graph_of(rope["reel"])
    assert {node["@type"] for node in nodes.values()} <= {ENTITY, ACTIVITY, AGENT}
