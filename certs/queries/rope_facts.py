"""States the facts of pieces and ropes as they go into a snapshot: JSON without floats."""

from collections.abc import Iterable, Sequence
from typing import Any

from certs.models import Tag
from certs.queries.derivation import certified_force, diameter_limits, length_mass
from certs.queries.grade import grade_of
from certs.queries.subject import Subject
from certs.queries.wire_facts import wire_facts
from certs.rules.derived import Derived, Gap, plain
from inventory.models import CutPiece, MillDocument, Reel
from inventory.queries.reel_map import reel_map
from inventory.queries.trace_back import Ancestor, BackTrace, HeatOnStretch
from inventory.rules.as_given import beside
from inventory.rules.designation import parse_designation
from inventory.rules.units import format_metres

Facts = dict[str, Any]


def piece_facts(subject: Subject) -> list[Facts]:
    """State each piece: length, ends, metres on its reel and on the mill's reel, heats, papers."""
    tags = _standing_tags(subject.pieces)
    return [
        {
            "code": piece.code,
            "designation": piece.reel.designation,
            "length_mm": piece.length_mm,
            "as_given": dict(piece.as_given),
            "tolerance": _tolerance(piece),
            "ends": _ends(piece),
            "reel": piece.reel.code,
            "from_mm": piece.from_mm,
            "to_mm": piece.to_mm,
            "mill_stretch": _mill_stretch(trace),
            "way_back": [_step(ancestor) for ancestor in trace.ancestors],
            "heats": [heat_facts(tie) for tie in trace.heats],
            "mill_documents": [document_facts(d) for d in trace.mill_documents],
            "tags": tags.get(piece.pk, []),
        }
        for piece, trace in zip(subject.pieces, subject.traces, strict=True)
    ]


def rope_facts(subject: Subject) -> list[Facts]:
    """State each reel's rope once: designation, maker, derived force, mass and diameter."""
    papers = {
        piece.reel_id: trace.mill_documents
        for piece, trace in zip(subject.pieces, subject.traces, strict=True)
    }
    return [_rope(reel, papers[reel.pk]) for reel in subject.reels]


def map_facts(subject: Subject) -> list[Facts]:
    """State what a map of each mill's reel shows: this paper's metres, the rest, the heats."""
    lit: dict[str, list[Facts]] = {}
    roots: dict[str, int] = {}
    for piece, trace in zip(subject.pieces, subject.traces, strict=True):
        root = trace.ancestors[-1]
        roots[root.reel_code] = root.reel_id
        stretch = {"from_mm": root.from_mm, "to_mm": root.to_mm, "label": piece.code}
        lit.setdefault(root.reel_code, []).append(stretch)
    reels = Reel.objects.in_bulk(list(roots.values()))
    return [_map(reels[roots[code]], lit[code]) for code in sorted(lit)]


def heat_facts(tie: HeatOnStretch) -> Facts:
    """State a heat and where on the mill's reel its wires lie."""
    return {
        "number": tie.heat.number,
        "code": tie.heat.code,
        "steel": tie.heat.steel_name,
        "mill": tie.mill.code,
        "reel": tie.reel_code,
        "from_mm": tie.from_mm,
        "to_mm": tie.to_mm,
    }


def document_facts(document: MillDocument) -> Facts:
    """State a maker's document and the hash of the scan that is held."""
    return {
        "code": document.code,
        "number": document.number,
        "kind": document.kind,
        "form": document.get_form_display(),
        "issued_date": document.issued_date.isoformat(),
        "validated_by": document.validated_by,
        "sha256": document.file.sha256,
    }


def _rope(reel: Reel, papers: Sequence[MillDocument]) -> Facts:
    force = certified_force(reel)
    designation = parse_designation(reel.designation)
    return {
        "reel": reel.code,
        "designation": reel.designation,
        "assumed": list(reel.assumed_parts),
        "lay_words": designation.lay_words,
        "mill": {"code": reel.mill.code, "name": reel.mill.name},
        "mill_reel_number": reel.mill_reel_number,
        "grade": grade_of(reel).as_json(),
        "mill_documents": [document_facts(document) for document in papers],
        "force": force.as_json(),
        "wire_tests": wire_facts(reel),
        "mass": _mass(length_mass(reel)),
        "diameter": _diameter(reel),
    }


def _mass(mass: Derived | Gap) -> Facts:
    if isinstance(mass, Gap):
        return {"text": "no value held", "source": mass.reason, "derivation": None}
    return {"text": mass.text, "source": mass.source.text, "derivation": mass.as_json()}


def _diameter(reel: Reel) -> Facts:
    limits = diameter_limits(reel)
    if isinstance(limits, Gap):
        return {"text": "no value held", "source": limits.reason, "min": None, "max": None}
    return {
        "text": f"{plain(limits.min_mm)} to {plain(limits.max_mm)} mm",
        "source": limits.source.text,
        "min": limits.lowest.as_json(),
        "max": limits.highest.as_json(),
    }


def _map(reel: Reel, lit: Sequence[Facts]) -> Facts:
    drawn = reel_map(reel)
    shown = [(stretch["from_mm"], stretch["to_mm"]) for stretch in lit]
    return {
        "reel": reel.code,
        "length_mm": reel.length_mm,
        "lit": sorted(lit, key=lambda stretch: int(stretch["from_mm"])),
        "other": [
            {"from_mm": s.from_mm, "to_mm": s.to_mm, "kind": s.kind.value}
            for s in drawn.stretches
            if not any(start < s.to_mm and s.from_mm < end for start, end in shown)
        ],
        "heats": [{"from_mm": h.from_mm, "to_mm": h.to_mm, "number": h.label} for h in drawn.heats],
    }


def _mill_stretch(trace: BackTrace) -> Facts:
    root = trace.ancestors[-1]
    return {"reel": root.reel_code, "from_mm": root.from_mm, "to_mm": root.to_mm}


def _step(ancestor: Ancestor) -> Facts:
    return {
        "reel": ancestor.reel_code,
        "from_mm": ancestor.from_mm,
        "to_mm": ancestor.to_mm,
        "sign": ancestor.sign,
        "offset_mm": ancestor.offset_mm,
        "wound_from": ancestor.wound_from_code,
    }


def _standing_tags(pieces: Iterable[CutPiece]) -> dict[int, list[str]]:
    tags: dict[int, list[str]] = {}
    rows = Tag.objects.filter(piece__in=list(pieces), revoked_at=None).order_by("id")
    for piece_id, code in rows.values_list("piece_id", "code"):
        tags.setdefault(int(piece_id or 0), []).append(code)
    return tags


def _tolerance(piece: CutPiece) -> str:
    if piece.ordered_length_mm is None:
        return ""
    minus, plus = piece.tolerance_minus_mm, piece.tolerance_plus_mm
    asked = beside(format_metres(piece.ordered_length_mm), piece.as_given, "ordered_length_mm")
    return f"ordered {asked} −{minus}/+{plus} mm"


def _ends(piece: CutPiece) -> str:
    near, far = piece.get_near_end_display(), piece.get_far_end_display()
    return f"both ends {near}" if near == far else f"near end {near}, far end {far}"
