"""Decides which nodes and lines a story is drawn with: heats on the left, customers on the right.

What belongs to the story is said by `certs.queries.trace`; nothing is joined here that it does not
join. Where it leaves open which lot went into which assembly, no line is drawn.
"""

from collections.abc import Callable, Collection
from itertools import pairwise

from certs.queries.trace_back_shapes import HeatBack, LotRow, RopeBack
from certs.queries.trace_shapes import CertificateRow, Story
from inventory.documents.lineage_nodes import LineageEdge, LineageNode
from inventory.documents.reel_stretches import span


def no_page(_code: str) -> str:
    """Give no address: in a file that is read away from this program nothing is linked."""
    return ""


class _Drawing:
    """Nodes and lines, each once, in the order in which they are told."""

    def __init__(self, *, lit: str, held: Collection[str], href: Callable[[str], str]) -> None:
        self.nodes: dict[str, LineageNode] = {}
        self.lines: dict[tuple[str, str], LineageEdge] = {}
        self._lit = lit
        self._held = held
        self._href = href

    def node(self, kind: str, code: str, *, label: str = "", note: str = "") -> None:
        """Add a node, unless it is there."""
        shown = LineageNode(
            key=code,
            kind=kind,
            label=label or code,
            note=note,
            href=self._href(code),
            is_held=code in self._held,
            is_lit=code == self._lit,
        )
        self.nodes.setdefault(code, shown)

    def line(self, source: str, target: str, label: str = "") -> None:
        """Add a line between two nodes; one of an unknown end is left out."""
        if source in self.nodes and target in self.nodes and source != target:
            self.lines.setdefault((source, target), LineageEdge(source, target, label))


def lineage_of(
    story: Story, *, held: Collection[str], href: Callable[[str], str] = no_page
) -> tuple[tuple[LineageNode, ...], tuple[LineageEdge, ...]]:
    """Give nodes and lines of a story.

    Args:
        held: the codes under hold.
        href: gives the address of the page of a code.
    """
    asked = story["asked"]
    drawn = _Drawing(lit=asked["code"], held=held, href=href)
    if asked["kind"] == "heat":
        drawn.node("heat", asked["code"], note=asked["text"])
    for rope in story["back"]:
        _rope(drawn, rope)
    for lot in (*story["fitting_lots"], *story["made_lots"]):
        _lot(drawn, lot)
    _made(drawn, story)
    _left(drawn, story)
    for certificate in story["certificates"]:
        _certificate(drawn, certificate)
    return tuple(drawn.nodes.values()), tuple(drawn.lines.values())


def codes_in(story: Story) -> set[str]:
    """Give the codes of all pieces, reels and assemblies of a story."""
    back = {reel["code"] for rope in story["back"] for reel in rope["reels"]}
    made = {row["code"] for key in ("pieces", "reels", "assemblies") for row in story[key]}
    return back | made | {rope["piece"] for rope in story["back"]} | {story["asked"]["code"]}


def _rope(drawn: _Drawing, rope: RopeBack) -> None:
    reels = rope["reels"]
    mill_reel = reels[-1]["code"]
    for heat in rope["heats"]:
        _heat(drawn, heat)
    for paper in rope["mill_documents"]:
        drawn.node("mill document", paper["code"], label=paper["number"], note=paper["kind"])
    for reel in reversed(reels):
        drawn.node("reel", reel["code"])
    for heat in rope["heats"]:
        drawn.line(heat["code"], heat["reel"], span(heat["from_mm"], heat["to_mm"]))
    for paper in rope["mill_documents"]:
        drawn.line(paper["code"], mill_reel)
    for child, parent in pairwise(reels):
        drawn.line(parent["code"], child["code"], span(parent["from_mm"], parent["to_mm"]))
    if rope["piece"]:
        drawn.node("cut piece", rope["piece"])
        nearest = reels[0]
        drawn.line(nearest["code"], rope["piece"], span(nearest["from_mm"], nearest["to_mm"]))


def _heat(drawn: _Drawing, heat: HeatBack) -> None:
    drawn.node("heat", heat["code"], label=heat["number"], note=heat["mill_name"])


def _lot(drawn: _Drawing, lot: LotRow) -> None:
    if lot["heat"]:
        drawn.node("heat", lot["heat"], label=lot["heat_number"])
    drawn.node("fitting lot", lot["code"], note=lot["description"])
    drawn.line(lot["heat"], lot["code"])


def _made(drawn: _Drawing, story: Story) -> None:
    """Draw reels, pieces and assemblies that were made."""
    for reel in story["reels"]:
        drawn.node("reel", reel["code"])
        if reel["depth"] == 0 and story["asked"]["kind"] == "heat":
            drawn.line(story["asked"]["code"], reel["code"])
    pieces = [piece for piece in story["pieces"] if piece["through"] != "fitting"]
    for piece in pieces:
        drawn.node("cut piece", piece["code"], note=piece["purpose"])
    for assembly in story["assemblies"]:
        drawn.node("assembly", assembly["code"])
    for piece in pieces:
        drawn.line(piece["reel"], piece["code"], span(piece["from_mm"], piece["to_mm"]))
        drawn.line(piece["code"], piece["wound_reel"])
        drawn.line(piece["code"], piece["assembly"])
    _fitted(drawn, story)


def _fitted(drawn: _Drawing, story: Story) -> None:
    """Draw which lots went into which assemblies, where that follows."""
    asked = story["asked"]
    if asked["kind"] == "assembly":
        for lot in story["fitting_lots"]:
            drawn.line(lot["code"], asked["code"])
        return
    lots = [asked["code"]] if asked["kind"] == "fitting lot" else []
    if asked["kind"] == "heat" and len(story["made_lots"]) == 1:
        lots = [story["made_lots"][0]["code"]]
    fitted = [piece["assembly"] for piece in story["pieces"] if piece["through"] == "fitting"]
    for code in lots:
        for assembly in fitted:
            drawn.line(code, assembly)


def _left(drawn: _Drawing, story: Story) -> None:
    """Draw deliveries and customers."""
    for delivery in story["deliveries"]:
        drawn.node("delivery", delivery["code"], note=delivery["delivered_at"][:10])
    for customer in story["customers"]:
        drawn.node("customer", customer["code"], label=customer["name"])
    for assembly in story["assemblies"]:
        drawn.line(assembly["code"], assembly["delivery"])
    for piece in story["pieces"]:
        if not piece["assembly"]:
            drawn.line(piece["code"], piece["delivery"])
    for delivery in story["deliveries"]:
        drawn.line(delivery["code"], delivery["customer"])


def _certificate(drawn: _Drawing, row: CertificateRow) -> None:
    code = row["number"] or row["draft_code"]
    drawn.node("certificate", code, note=row["state"])
    if row["assembly"]:
        drawn.line(row["assembly"], code)
        return
    for piece in row["pieces"]:
        drawn.line(piece, code)
