"""Decides how the wire tests that a certificate tells stand on its page, from the snapshot."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from certs.pages.addresses import page_of
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.rules.units import format_kn

Facts = Mapping[str, Any]


def wire_tests_in(rope: Facts) -> Sequence[Facts]:
    """Give the wire tests told of a rope; papers of earlier days hold none."""
    told = rope.get("wire_tests")
    return told["tests"] if told else ()


def table_of_wires(ropes: Iterable[Facts]) -> Table | None:
    """Tell the wire tests of all ropes of a paper; None where it tells none."""
    found = [(rope, test) for rope in ropes for test in wire_tests_in(rope)]
    if not found:
        return None
    return build_table(
        columns=(
            "Test",
            "Reel",
            "Method",
            Column("Sum", is_number=True),
            Column("Factor", is_number=True),
            Column("Calculated", is_number=True),
            Column("Required", is_number=True),
            "Outcome",
            "Grade",
        ),
        lines=(_line(rope, test) for rope, test in found),
        folds=True,
    )


def _line(rope: Facts, test: Facts) -> Line:
    calculated_n = test["calculated_n"]
    return Line(
        (
            Cell(test["code"], href=page_of(test["code"])),
            rope["reel"],
            test["method_text"],
            format_kn(test["sum_n"]),
            Cell(test["spinning_factor"] or "none known", note=test["spinning_source"]),
            "none" if calculated_n is None else format_kn(calculated_n),
            format_kn(test["required_n"]),
            test["outcome_text"],
            Cell(test["grade_text"], note=test["strengths"]),
        )
    )
