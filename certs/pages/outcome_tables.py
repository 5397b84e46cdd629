"""Decides how tests stand in tables, and which shape goes with each outcome."""

from collections.abc import Iterable

from certs.models import BreakingTest, ProofTest
from certs.pages.addresses import page_of
from certs.queries.evidence import reversal_of
from inventory.pages.reading import day, shown_force
from inventory.pages.table import Cell, Column, Line, Table, build_table

_SHAPES = {
    BreakingTest.Outcome.MEETS.value: "good",
    BreakingTest.Outcome.MEETS_LOWER_BOUND.value: "good",
    BreakingTest.Outcome.DISCOUNTED.value: "wait",
    BreakingTest.Outcome.FAILS.value: "stop",
    ProofTest.Outcome.PASSES.value: "good",
    # "fails" is the same word for both kinds of test.
    ProofTest.Outcome.CANNOT_SAY.value: "wait",
}


def outcome_shape(outcome: str) -> str:
    """Give the shape of an outcome; a failure is a stop."""
    return _SHAPES[outcome]


def outcome_cell(test: BreakingTest | ProofTest) -> Cell:
    """Tell the outcome of a test; one that was reversed has none that counts."""
    outcome = test.get_outcome_display()
    if reversal_of(test) is not None:
        return Cell("reversed", shape="past", note=outcome)
    return Cell(outcome, shape=outcome_shape(test.outcome))


def table_of_breaking_tests(tests: Iterable[BreakingTest]) -> Table:
    """Put breaking-force tests into a table."""
    columns = (
        "Test",
        "Tested",
        "Sample",
        "Rope",
        Column("Peak", is_number=True),
        Column("Required", is_number=True),
        "Outcome",
        "Machine",
    )
    lines = (
        Line(
            (
                Cell(test.code, href=page_of(test.code)),
                day(test.tested_at),
                Cell(test.sample.code, href=page_of(test.sample.code)),
                Cell(test.sample.reel.designation, note=test.sample.reel.code),
                shown_force(test.peak_n),
                shown_force(test.required_n),
                outcome_cell(test),
                Cell(test.machine.code, note=_doubt(test.machine_problems)),
            )
        )
        for test in tests
    )
    return build_table(columns=columns, lines=lines, folds=True)


def table_of_proof_tests(tests: Iterable[ProofTest]) -> Table:
    """Put proof-load tests into a table."""
    columns = (
        "Test",
        "Tested",
        "Assembly",
        Column("Required", is_number=True),
        Column("Peak", is_number=True),
        "Outcome",
        "Machine",
    )
    lines = (
        Line(
            (
                Cell(test.code, href=page_of(test.code)),
                day(test.tested_at),
                Cell(test.assembly.code, href=page_of(test.assembly.code)),
                Cell(shown_force(test.required_n), note=f"{test.required_hold_s} s"),
                shown_force(test.peak_n),
                outcome_cell(test),
                Cell(test.machine.code, note=_doubt(test.machine_problems)),
            )
        )
        for test in tests
    )
    return build_table(columns=columns, lines=lines, folds=True)


def _doubt(problems: Iterable[str]) -> str:
    return "supports no certificate" if any(problems) else ""
