"""Decides how tests of wires stand in tables, and how their findings are told."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from certs.models import WireTest
from certs.pages.addresses import page_of
from certs.queries.evidence import reversal_of
from certs.queries.wire_tests import RopeWireTest
from inventory.documents.quantities import day
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.rules.units import format_kn

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
                format_kn(test.required_n),
                _outcome(test),
                Cell(test.get_grade_outcome_display(), shape=_GRADE_SHAPES[test.grade_outcome]),
                Cell(
                    test.machine.code if test.machine else "",
                    note="supports no certificate" if any(test.machine_problems) else "",
                ),
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
                format_kn(one.test.required_n),
                _outcome(one.test),
                Cell(
                    one.test.get_grade_outcome_display(),
                    shape=_GRADE_SHAPES[one.test.grade_outcome],
                ),
                " ".join(one.doubts),
            )
        )
        for one in tests
    )
    return build_table(columns=columns, lines=lines, folds=True)


def _method(test: WireTest) -> Cell:
    return Cell(test.get_method_display(), note=test.sample.code if test.sample else test.paper)


def _calculated(test: WireTest) -> str:
    return "none" if test.calculated_n is None else format_kn(test.calculated_n)


def _outcome(test: WireTest) -> Cell:
    outcome = test.get_outcome_display()
    if reversal_of(test) is not None:
        return Cell("reversed", shape="past", note=outcome)
    return Cell(outcome, shape=outcome_shape(test.outcome))
