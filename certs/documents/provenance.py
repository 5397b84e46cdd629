"""Writes a story as provenance: PROV-O in JSON-LD, with its context in the file.

W3C Recommendation PROV-O of 30 April 2013: reel, piece, assembly and certificate are entities; a
cut, a test, an issue are activities; firms are agents. Nobody is named: people stand in the other
files. Where the story leaves open what came from what, nothing is said.
"""

from collections.abc import Iterable, Mapping
from itertools import pairwise
from typing import Any, Final
from urllib.parse import quote

Story = Mapping[str, Any]
"""A story as `certs.queries.trace` tells it."""
Node = dict[str, Any]

PROV: Final = "http://www.w3.org/ns/prov#"
_LINKS: Final = (
    "wasDerivedFrom",
    "wasGeneratedBy",
    "wasAttributedTo",
    "wasAssociatedWith",
    "wasRevisionOf",
    "wasInvalidatedBy",
    "wasInformedBy",
    "used",
)
_MOMENTS: Final = ("generatedAtTime", "endedAtTime")
CONTEXT: Final[Mapping[str, Any]] = {
    "prov": PROV,
    "xsd": "http://www.w3.org/2001/XMLSchema#",
    "rdfs": "http://www.w3.org/2000/01/rdf-schema#",
    "label": "rdfs:label",
    **{name: {"@id": f"prov:{name}", "@type": "@id"} for name in _LINKS},
    **{name: {"@id": f"prov:{name}", "@type": "xsd:dateTime"} for name in _MOMENTS},
}


def provenance(story: Story, *, recorded: Mapping[str, str], origin: str) -> dict[str, Any]:
    """Write a story as JSON-LD; each thing is named by the address of its story.

    Args:
        recorded: when each thing was recorded, by its code; ISO 8601.
        origin: scheme and host of this record, such as "https://rope.example".
    """
    graph = _Graph(recorded=recorded, origin=origin)
    _asked(graph, story)
    for rope in story["back"]:
        _rope(graph, rope)
    for lot in (*story["fitting_lots"], *story["made_lots"]):
        _lot(graph, lot)
    _made(graph, story)
    _tested(graph, story)
    for paper in story["certificates"]:
        _certificate(graph, paper)
    _left(graph, story)
    return {"@context": dict(CONTEXT), "@graph": graph.whole()}


class _Graph:
    """Nodes by their codes, each once, in the order in which they are told."""

    def __init__(self, *, recorded: Mapping[str, str], origin: str) -> None:
        self._nodes: dict[str, Node] = {}
        self._recorded = recorded
        self._origin = origin

    def entity(self, code: str, label: str) -> None:
        """Add a thing, unless it is there."""
        node = self._node(code, "prov:Entity", label)
        if code in self._recorded:
            node.setdefault("generatedAtTime", self._recorded[code])

    def agent(self, code: str, label: str) -> None:
        """Add a firm, unless it is there."""
        self._node(code, "prov:Organization", label)

    def activity(self, code: str, label: str, *, uses: Iterable[str], at: str = "") -> None:
        """Add what was done, with what it was done to."""
        node = self._node(code, "prov:Activity", label)
        if at:
            node["endedAtTime"] = at
        for used in uses:
            self.link(code, "used", used)

    def link(self, source: str, name: str, target: str) -> None:
        """Say how one node stands to another; nothing where either is not told of."""
        if source not in self._nodes or target not in self._nodes or source == target:
            return
        targets = self._nodes[source].setdefault(name, [])
        if self._address(target) not in targets:
            targets.append(self._address(target))

    def whole(self) -> list[Node]:
        """Give every node."""
        return list(self._nodes.values())

    def _node(self, code: str, kind: str, label: str) -> Node:
        fresh: Node = {"@id": self._address(code), "@type": kind, "label": label}
        return self._nodes.setdefault(code, fresh)

    def _address(self, code: str) -> str:
        """Name a thing by its page; a deed, written "P-00001#cut", as a part of that page."""
        thing, parted, deed = code.partition("#")
        return f"{self._origin}/trace/?code={quote(thing)}{parted}{deed}"


def _asked(graph: _Graph, story: Story) -> None:
    asked = story["asked"]
    if asked["kind"] in {"heat", "fitting lot"}:
        graph.entity(asked["code"], f"{asked['kind']} {asked['code']}: {asked['text']}")


def _rope(graph: _Graph, rope: Mapping[str, Any]) -> None:
    """Write where rope came from: heats, documents, every reel, every piece that was wound."""
    for heat in rope["heats"]:
        graph.agent(heat["mill"], heat["mill_name"])
        graph.entity(heat["code"], f"heat {heat['number']}")
        graph.link(heat["code"], "wasAttributedTo", heat["mill"])
    for reel in rope["reels"]:
        graph.entity(reel["code"], f"reel {reel['code']}")
    for heat in rope["heats"]:
        graph.link(heat["reel"], "wasDerivedFrom", heat["code"])
    for paper in rope["mill_documents"]:
        graph.entity(paper["code"], f"{paper['kind']} {paper['number']}")
        graph.link(paper["code"], "wasAttributedTo", paper["maker"])
    for child, parent in pairwise(rope["reels"]):
        _cut(graph, child["wound_from"], reel=parent["code"])
        _wound(graph, child["code"], piece=child["wound_from"])
    if rope["piece"]:
        _cut(graph, rope["piece"], reel=rope["reels"][0]["code"])


def _cut(graph: _Graph, piece: str, *, reel: str) -> None:
    graph.entity(piece, f"cut piece {piece}")
    graph.activity(f"{piece}#cut", f"cut of {piece}", uses=[reel])
    graph.link(piece, "wasGeneratedBy", f"{piece}#cut")
    graph.link(piece, "wasDerivedFrom", reel)


def _wound(graph: _Graph, reel: str, *, piece: str) -> None:
    graph.entity(reel, f"reel {reel}")
    graph.activity(f"{reel}#wind", f"winding of {reel}", uses=[piece])
    graph.link(reel, "wasGeneratedBy", f"{reel}#wind")
    graph.link(reel, "wasDerivedFrom", piece)


def _lot(graph: _Graph, lot: Mapping[str, Any]) -> None:
    graph.agent(lot["maker"], lot["maker_name"])
    graph.entity(lot["code"], f"fitting lot {lot['code']}: {lot['description']}")
    graph.link(lot["code"], "wasAttributedTo", lot["maker"])
    if lot["heat"]:
        graph.entity(lot["heat"], f"heat {lot['heat_number']}")
        graph.link(lot["code"], "wasDerivedFrom", lot["heat"])


def _made(graph: _Graph, story: Story) -> None:
    asked = story["asked"]
    for reel in story["reels"]:
        graph.entity(reel["code"], f"reel {reel['code']}")
        if asked["kind"] == "heat" and reel["depth"] == 0:
            graph.link(reel["code"], "wasDerivedFrom", asked["code"])
    for piece in story["pieces"]:
        _cut(graph, piece["code"], reel=piece["reel"])
    for reel in story["reels"]:
        if reel["wound_from"]:
            _wound(graph, reel["code"], piece=reel["wound_from"])
    for assembly in story["assemblies"]:
        code = assembly["code"]
        legs = [piece["code"] for piece in story["pieces"] if piece["assembly"] == code]
        graph.entity(code, f"assembly {code}")
        graph.activity(f"{code}#build", f"building of {code}", uses=legs)
        graph.link(code, "wasGeneratedBy", f"{code}#build")
        for leg in legs:
            graph.link(code, "wasDerivedFrom", leg)
    _fitted(graph, story)


def _fitted(graph: _Graph, story: Story) -> None:
    """Write which lots are in which assemblies, where the story says so."""
    asked = story["asked"]
    if asked["kind"] == "assembly":
        for lot in story["fitting_lots"]:
            graph.link(asked["code"], "wasDerivedFrom", lot["code"])
    if asked["kind"] == "fitting lot":
        for piece in story["pieces"]:
            graph.link(piece["assembly"], "wasDerivedFrom", asked["code"])


def _tested(graph: _Graph, story: Story) -> None:
    for test in (*story["rope_tests"], *story["breaking_tests"]):
        graph.entity(test["sample"], f"cut piece {test['sample']}")
        words = f"breaking-force test {test['code']}: {test['outcome']}"
        graph.activity(test["code"], words, uses=[test["sample"]], at=test["tested_at"])
    for test in story["wire_tests"]:
        words = f"wire test {test['code']}: {test['outcome']}"
        graph.activity(test["code"], words, uses=[test["reel"]], at=test["tested_at"])
    for test in story["proof_tests"]:
        words = f"proof-load test {test['code']}: {test['outcome']}"
        graph.activity(test["code"], words, uses=[test["assembly"]], at=test["tested_at"])


def _certificate(graph: _Graph, paper: Mapping[str, Any]) -> None:
    number = paper["number"]
    if not number:
        return
    about = [paper["assembly"]] if paper["assembly"] else paper["pieces"]
    graph.entity(number, f"certificate {number}: {paper['document_kind']}")
    issue = f"{number}#issue"
    graph.activity(issue, f"issue of {number}", uses=about, at=paper["issued_at"])
    graph.link(issue, "wasInformedBy", paper["breaking_test"])
    graph.link(number, "wasGeneratedBy", issue)
    for code in about:
        graph.link(number, "wasDerivedFrom", code)
    if paper["replaces"]:
        graph.entity(paper["replaces"], f"certificate {paper['replaces']}")
        graph.link(number, "wasRevisionOf", paper["replaces"])
    if paper["ended_at"]:
        end = f"{number}#end"
        graph.activity(end, f"{number} {paper['state']}", uses=[number], at=paper["ended_at"])
        graph.link(number, "wasInvalidatedBy", end)


def _left(graph: _Graph, story: Story) -> None:
    """Write what was delivered, and to whom."""
    for customer in story["customers"]:
        graph.agent(customer["code"], customer["name"])
    for delivery in story["deliveries"]:
        code = delivery["code"]
        goods = [one["code"] for one in story["assemblies"] if one["delivery"] == code]
        goods += [
            one["code"]
            for one in story["pieces"]
            if one["delivery"] == code and not one["assembly"]
        ]
        at = delivery["delivered_at"]
        graph.activity(code, f"delivery {code}", uses=goods, at=at)
        graph.link(code, "wasAssociatedWith", delivery["customer"])
