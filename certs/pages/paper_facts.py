"""Decides how the content of a certificate is told on a page, from its snapshot alone."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from certs.documents.derivation_list import DerivationList
from certs.pages.addresses import page_of, story_of
from certs.pages.paper_build import built_and_proved
from certs.pages.paper_receiving import table_of_receiving
from certs.pages.paper_wires import table_of_wires, wire_tests_in
from certs.queries.stated_strengths import marked_in
from certs.rules.confidence import in_words
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.rules.units import format_kn, format_metres

Facts = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Strength:
    """A strength that the paper states, and the words that stand beside it."""

    quantity: str
    value: str
    words: str


@dataclass(frozen=True, slots=True)
class PaperTold:
    """What a paper says; with a problem nothing can be said yet."""

    problem: str
    document_kind: str
    strengths: tuple[Strength, ...]
    derivations: DerivationList
    pieces: Table | None
    ropes: Table | None
    ends: Table | None
    tests: Table | None
    wires: Table | None
    statements: Sequence[str]
    cautions: Sequence[str]
    evidence: str
    build: Table | None = None
    proof_rules: Table | None = None
    receiving: Table | None = None

    @classmethod
    def of_text(cls, text: str) -> "PaperTold":
        """Tell a frozen snapshot."""
        return told_paper(json.loads(text))

    @classmethod
    def missing(cls, problem: str) -> "PaperTold":
        """Tell why nothing can be said yet."""
        empty = DerivationList()
        return cls(problem, "", (), empty, None, None, None, None, None, (), (), "")


def told_paper(snapshot: Facts) -> PaperTold:
    """Tell what a snapshot says."""
    evidence = snapshot["evidence"]
    tests = [*snapshot["proof_tests"], *snapshot["breaking_tests"]]
    assembly = snapshot["assembly"]
    return PaperTold(
        problem="",
        document_kind=snapshot["document_kind_text"],
        strengths=tuple(_strengths(snapshot)),
        derivations=_derivations(snapshot),
        pieces=_pieces(snapshot["pieces"]) if snapshot["pieces"] else None,
        ropes=_ropes(snapshot["ropes"]),
        ends=_ends(assembly["ends"]) if assembly else None,
        tests=_tests(tests) if tests else None,
        wires=table_of_wires(snapshot["ropes"]),
        receiving=table_of_receiving(snapshot.get("receiving", [])),
        statements=snapshot["statements"],
        cautions=snapshot["cautions"],
        evidence=(
            f"{evidence['reason']} ({evidence['source']} [{in_words(evidence['confidence'])}])"
        ),
        **built_and_proved(assembly),
    )


def _strengths(snapshot: Facts) -> Iterator[Strength]:
    assembly = snapshot["assembly"]
    mark = marked_in(snapshot)
    if mark:
        yield Strength(mark["quantity"], f"{mark['stated']} {mark['unit']}", f"{mark['words']}.")
    for rating in assembly["ratings"] if assembly else ():
        value = f"{rating['stated']} {rating['unit']}"
        yield Strength(rating["quantity"], value, rating["words"])
    for rope in snapshot["ropes"]:
        force = rope["force"]
        yield Strength(
            f"Minimum breaking force of the rope of reel {rope['reel']}",
            f"{force['stated']} {force['unit']}",
            "Of the rope without terminations, when new; not a load that it may carry in use.",
        )


def _derivations(snapshot: Facts) -> DerivationList:
    """List every derivation behind the stated strengths, each once."""
    found = DerivationList()
    for rating in snapshot["assembly"]["ratings"] if snapshot["assembly"] else ():
        found.add(rating["derivation"])
    for rope in snapshot["ropes"]:
        found.add(rope["force"])
        for test in wire_tests_in(rope):
            for derivation in test["derivations"]:
                found.add(derivation)
    return found


def _pieces(pieces: Iterable[Facts]) -> Table:
    return build_table(
        columns=(
            "Piece",
            Column("Length", is_number=True),
            "As cut",
            "Reel",
            "Mill’s reel",
            "Heats",
        ),
        lines=(
            Line(
                (
                    Cell(piece["code"], href=story_of(piece["code"])),
                    Cell(format_metres(piece["length_mm"]), note=piece["tolerance"]),
                    piece["ends"],
                    Cell(piece["reel"], note=_span(piece)),
                    Cell(piece["mill_stretch"]["reel"], note=_span(piece["mill_stretch"])),
                    ", ".join(dict.fromkeys(heat["number"] for heat in piece["heats"])),
                )
            )
            for piece in pieces
        ),
        folds=True,
    )


def _ropes(ropes: Iterable[Facts]) -> Table:
    return build_table(
        columns=("Reel", "Rope", "Mill", "Maker’s document", "Grade", "Mass", "Measured diameter"),
        lines=(
            Line(
                (
                    Cell(rope["reel"], href=page_of(rope["reel"])),
                    rope["designation"],
                    Cell(rope["mill"]["name"], note=rope["mill_reel_number"]),
                    ", ".join(f"{d['number']} ({d['kind']})" for d in rope["mill_documents"])
                    or "none held",
                    Cell(rope["grade"]["text"], note=" ".join(rope["grade"]["reasons"])),
                    Cell(rope["mass"]["text"], note=rope["mass"]["source"]),
                    Cell(rope["diameter"]["text"], note=rope["diameter"]["source"]),
                )
            )
            for rope in ropes
        ),
        folds=True,
    )


def _ends(ends: Iterable[Facts]) -> Table:
    return build_table(
        columns=("Piece", "End", "Termination", Column("Keeps", is_number=True), "Fittings"),
        lines=(
            Line(
                (
                    end["piece"],
                    end["end"],
                    end["kind"],
                    Cell(end["efficiency"], note=end["source"]),
                    ", ".join(f"{f['lot']} × {f['quantity']}" for f in end["fittings"]),
                )
            )
            for end in ends
        ),
        folds=True,
    )


def _tests(tests: Iterable[Facts]) -> Table:
    return build_table(
        columns=(
            "Test",
            Column("Required", is_number=True),
            Column("Peak", is_number=True),
            "Outcome",
            "Machine",
            "Calibration",
        ),
        lines=(
            Line(
                (
                    Cell(test["code"], href=page_of(test["code"])),
                    format_kn(test["required_n"]),
                    format_kn(test["peak_n"]),
                    test["outcome_text"],
                    test["machine"]["code"],
                    _calibration(test["machine"]["calibration"]),
                )
            )
            for test in tests
        ),
        folds=True,
    )


def _calibration(calibration: Facts | None) -> str:
    return str(calibration["certificate_number"]) if calibration else "none on record"


def _span(stretch: Facts) -> str:
    return f"{format_metres(stretch['from_mm'])} to {format_metres(stretch['to_mm'])}"
