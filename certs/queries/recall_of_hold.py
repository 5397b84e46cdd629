"""Tells what a hold reaches, and parts it by customer: what each of them has of it."""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, TypedDict

from certs.models import Certificate
from certs.queries.trace import recall_of
from certs.queries.trace_downstream import Asking
from certs.queries.trace_shapes import CertificateRow, PieceRow, Recall, TagRow
from inventory.models import Assembly, CutPiece, Hold, TestingMachine
from inventory.queries.hold_subject import subject_of

_KINDS: Mapping[str, str] = {str(value): str(label) for value, label in Certificate.Kind.choices}


class PieceFacts(TypedDict):
    """A piece of rope in doubt; `touched` are metres [from, to] in mm of `asked_reel`."""

    code: str
    designation: str
    length_mm: int
    reel: str
    from_mm: int
    to_mm: int
    asked_reel: str
    touched: list[list[int]]
    through: str


class ItemFacts(TypedDict):
    """What a customer has in his hands: an assembly with its pieces in doubt, or a piece."""

    code: str
    what: str
    delivery: str
    delivered_at: str
    tags: list[str]
    pieces: list[PieceFacts]


class PaperFacts(TypedDict):
    """A certificate that speaks of anything in doubt; `state` is that of the day of asking."""

    number: str
    what: str
    issued_at: str
    state: str
    tags: list[str]


@dataclass(frozen=True, slots=True)
class CustomerReached:
    """What one customer was delivered, or was given a paper about, of what is in doubt."""

    code: str
    items: tuple[ItemFacts, ...]
    papers: tuple[PaperFacts, ...]

    def without(self, codes: Iterable[str]) -> "CustomerReached":
        """Leave out items and papers of these codes."""
        known = set(codes)
        return CustomerReached(
            self.code,
            tuple(item for item in self.items if item["code"] not in known),
            tuple(paper for paper in self.papers if paper["number"] not in known),
        )

    @property
    def codes(self) -> list[str]:
        """The codes of the items and the numbers of the papers."""
        return [*(one["code"] for one in self.items), *(one["number"] for one in self.papers)]


def recall_of_hold(hold: Hold) -> Recall | None:
    """Tell all that a hold reaches; None for a testing machine, of which nothing is made."""
    thing = subject_of(hold)
    if isinstance(thing, TestingMachine):
        return None
    return recall_of(Asking(thing=thing, from_mm=hold.from_mm, to_mm=hold.to_mm))


def customers_reached(recall: Recall) -> list[CustomerReached]:
    """Part a recall by customer, in the order of their codes, in a fixed number of queries."""
    facts = _Facts(recall)
    return [facts.of_customer(customer["code"]) for customer in recall["customers"]]


class _Facts:
    """The rows of a recall by the codes that letters ask for."""

    def __init__(self, recall: Recall) -> None:
        self.recall = recall
        self.delivered = {one["code"]: one["delivered_at"] for one in recall["deliveries"]}
        self.tags: defaultdict[str, list[str]] = defaultdict(list)
        for tag in recall["tags"]:
            self._add(tag)
        codes = [piece["code"] for piece in recall["pieces"]]
        reels = CutPiece.objects.filter(code__in=codes).values_list("code", "reel__designation")
        self.designations = dict(reels)
        built = Assembly.objects.filter(code__in=[one["code"] for one in recall["assemblies"]])
        self.assemblies = {one.code: one for one in built}

    def _add(self, tag: TagRow) -> None:
        if not tag["revoked_at"]:
            self.tags[tag["thing"]].append(tag["code"])

    def of_customer(self, code: str) -> CustomerReached:
        papers = [
            paper
            for paper in self.recall["certificates"]
            if paper["customer"] == code and paper["number"]
        ]
        named = {piece for paper in papers for piece in paper["pieces"]}
        things: defaultdict[str, list[PieceRow]] = defaultdict(list)
        for piece in self.recall["pieces"]:
            if piece["customer"] == code or piece["code"] in named:
                things[piece["assembly"] or piece["code"]].append(piece)
        return CustomerReached(
            code,
            tuple(self._item(thing, pieces) for thing, pieces in things.items()),
            tuple(self._paper(paper) for paper in papers),
        )

    def _item(self, code: str, pieces: list[PieceRow]) -> ItemFacts:
        delivery = next((piece["delivery"] for piece in pieces if piece["delivery"]), "")
        carried = [tag for piece in pieces for tag in self.tags[piece["code"]]]
        tags = self.tags[code] + [tag for tag in carried if tag not in self.tags[code]]
        return {
            "code": code,
            "what": self._what(code),
            "delivery": delivery,
            "delivered_at": self.delivered.get(delivery, ""),
            "tags": tags,
            "pieces": [self._piece(piece) for piece in pieces],
        }

    def _what(self, code: str) -> str:
        assembly = self.assemblies.get(code)
        if assembly is None:
            return "wire rope, cut to length"
        kind = str(assembly.get_kind_display())
        return f"{kind}: {assembly.description}" if assembly.description else kind

    def _piece(self, piece: PieceRow) -> PieceFacts:
        return {
            "code": piece["code"],
            "designation": self.designations.get(piece["code"], ""),
            "length_mm": piece["to_mm"] - piece["from_mm"],
            "reel": piece["reel"],
            "from_mm": piece["from_mm"],
            "to_mm": piece["to_mm"],
            "asked_reel": piece["asked_reel"],
            "touched": [list(pair) for pair in piece["touched"]],
            "through": piece["through"],
        }

    def _paper(self, paper: CertificateRow) -> PaperFacts:
        return {
            "number": paper["number"],
            "what": _KINDS[paper["kind"]],
            "issued_at": paper["issued_at"],
            "state": paper["state"],
            "tags": list(self.tags[paper["number"]]),
        }


def codes_in(facts: Mapping[str, Any]) -> list[str]:
    """Return the codes of the items and the numbers of the papers that a letter names."""
    return [
        *(item["code"] for item in facts.get("items", [])),
        *(paper["number"] for paper in facts.get("papers", [])),
    ]
