"""Decides how tests of wires stand in tables, and how their findings are told."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from certs.models import WireTest
from certs.pages.addresses import page_of
from certs.queries.evidence import reversal_of
from certs.queries.trace_shapes import WireRow
from certs.queries.wire_tests import RopeWireTest
from inventory.pages.reading import day, shown_force
from inventory.pages.table import Cell, Column, Line, Table, build_table

_SHAPES = {
    WireTest.Outcome.MEETS.value: "good",
    WireTest.Outcome.FALLS_SHORT.value: "stop",
    WireTest.Outcome.CANNOT_SAY.value: "wait",
}
_GRADE_SHAPES = {
    WireTest.GradeOutcome.SUPPORTS.value: "good",
    WireTest.GradeOutcome.REFUTES.value: "stop",
    WireTest.GradeOutcome.CANNOT_SAY.value: "wait",
}
# Short words for tables; the page of a test says them whole.
_OUTCOME_WORDS = {
    WireTest.Outcome.MEETS.value: "meets it",
    WireTest.Outcome.FALLS_SHORT.value: "falls short",
    WireTest.Outcome.CANNOT_SAY.value: "no force",
}
_GRADE_WORDS = {
    WireTest.GradeOutcome.SUPPORTS.value: "supported",
    WireTest.GradeOutcome.REFUTES.value: "refuted",
    WireTest.GradeOutcome.CANNOT_SAY.value: "cannot be said",
}
_METHOD_WORDS = {
    WireTest.Method.AFTER_UNLAYING.value: "2, from the rope",
    WireTest.Method.BEFORE_LAYING.value: "3, before laying",
}
_FINDING_SHAPES = {"agree": "good", "disagree": "stop", "cannot_say": "wait"}
_FORCES = (Column("Calculated", is_number=True), Column("Required", is_number=True))


@dataclass(frozen=True, slots=True)
class FindingTold:
    """A frozen finding as `templates/parts/_findings.html` shows it."""

    title: str
    word: str
    shape: str
    text: str
    limit: str
    source: str
    href: str = ""


def outcome_shape(outcome: str) -> str:
    """Give the shape of an outcome; falling short is a stop."""
    return _SHAPES[outcome]


def findings_told(findings: Iterable[Mapping[str, Any]]) -> list[FindingTold]:
    """Tell the findings that were frozen with a test."""
    return [
        FindingTold(
            title=one["topic"],
            word=one["verdict_text"],
            shape=_FINDING_SHAPES[one["verdict"]],
            text=" ".join((one["text"], *one["warnings"])),
            limit=one["rule"],
            source=one["source_text"],
        )
        for one in findings
    ]


def table_of_wire_tests(tests: Iterable[WireTest]) -> Table:
    """Put tests of wires into a table."""
    columns = ("Test", "Tested", "Reel", "Method", *_FORCES, "Outcome", "Marked grade", "Machine")
    lines = (
        Line(
            (
                Cell(test.code, href=page_of(test.code)),
                day(test.tested_at),
                Cell(test.reel.code, href=page_of(test.reel.code), note=test.reel.designation),
                _method(test),
                _calculated(test),
                shown_force(test.required_n),
                _outcome(test),
                _grade(test),
                _machine(test),
            )
        )
        for test in tests
    )
    return build_table(columns=columns, lines=lines, folds=True)


def table_on_rope(tests: Iterable[RopeWireTest]) -> Table:
    """Put the tests of wires on one rope into a table, with what puts them in doubt."""
    columns = ("Test", "Method", *_FORCES, "Outcome", "Marked grade", "In doubt because")
    lines = (
        Line(
            (
                Cell(one.test.code, href=page_of(one.test.code)),
                _method(one.test),
                _calculated(one.test),
                shown_force(one.test.required_n),
                _outcome(one.test),
                _grade(one.test),
                " ".join(one.doubts),
            )
        )
        for one in tests
    )
    return build_table(columns=columns, lines=lines, folds=True)


def table_of_wire_rows(rows: Iterable[WireRow]) -> Table:
    """Put the tests of wires of a story into a table."""
    columns = ("Test", "Sample", "Tested", *_FORCES, "Outcome", "Marked grade")
    lines = (
        Line(
            (
                Cell(row["code"], href=page_of(row["code"])),
                Cell(row["sample"] or "none", href=page_of(row["sample"])),
                row["tested_at"][:10],
                "none" if row["calculated_n"] is None else shown_force(row["calculated_n"]),
                shown_force(row["required_n"]),
                _outcome_of(row),
                Cell(_GRADE_WORDS[row["grade_outcome"]], shape=_GRADE_SHAPES[row["grade_outcome"]]),
            )
        )
        for row in rows
    )
    return build_table(columns=columns, lines=lines, folds=True)


def _outcome_of(row: WireRow) -> Cell:
    if row["reversed_at"]:
        return Cell("reversed", shape="past", note=row["reversed_at"][:10])
    return Cell(_OUTCOME_WORDS[row["outcome"]], shape=outcome_shape(row["outcome"]))


def _method(test: WireTest) -> Cell:
    return Cell(_METHOD_WORDS[test.method], note=test.sample.code if test.sample else test.paper)


def _calculated(test: WireTest) -> str:
    return "none" if test.calculated_n is None else shown_force(test.calculated_n)


def _outcome(test: WireTest) -> Cell:
    word = _OUTCOME_WORDS[test.outcome]
    if reversal_of(test) is not None:
        return Cell("reversed", shape="past", note=word)
    return Cell(word, shape=outcome_shape(test.outcome))


def _grade(test: WireTest) -> Cell:
    return Cell(_GRADE_WORDS[test.grade_outcome], shape=_GRADE_SHAPES[test.grade_outcome])


def _machine(test: WireTest) -> Cell:
    if test.machine is None:
        return Cell("")
    doubt = "supports no certificate" if any(test.machine_problems) else ""
    return Cell(test.machine.code, href=page_of(test.machine.code), note=doubt)
