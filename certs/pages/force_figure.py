"""Decides how the force log of a test is shown: the curve with its marks, and the same as a table.

A log whose bytes are not as they were kept is not drawn; that is said instead.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from certs.documents.curve_marks import CurveMarks, marks_of
from certs.documents.load_curve import draw_load_curve
from certs.documents.load_curve_table import load_curve_table
from certs.models import BreakingTest, ProofTest
from certs.pages.curve_table import table_of_curve
from certs.queries.test_facts import Facts, breaking_test_facts, proof_test_facts
from inventory.documents.svg import Drawing
from inventory.pages.table import Table
from inventory.queries.kept_files import FileIsNotAsKept


@dataclass(frozen=True, slots=True)
class ForceFigure:
    """The drawing and its table; with a problem there is neither.

    `loading` is how a broken sample was loaded, in its plain form; None for a proof load.
    """

    drawing: Drawing | None
    table: Table | None
    problem: str
    loading: Facts | None = None


def figure_of(test: BreakingTest | ProofTest) -> ForceFigure | None:
    """Draw the log of a test; None where there is no log."""
    if test.log is None:
        return None
    try:
        facts = _facts(test)
    except FileIsNotAsKept as problem:
        return ForceFigure(None, None, problem.message)
    shown = figure_from(facts["curve"], marks_of(facts), title=f"Force over time, test {test.code}")
    return replace(shown, loading=facts.get("loading"))


def figure_from(curve: Sequence[Sequence[int]], marks: CurveMarks, *, title: str) -> ForceFigure:
    """Draw a curve of whole ms and N with its marks, and put the same into a table."""
    samples = [(ms / 1000, float(force_n)) for ms, force_n in curve]
    return ForceFigure(
        drawing=draw_load_curve(samples=samples, marks=marks, title=title),
        table=table_of_curve(load_curve_table(samples=samples, marks=marks)),
        problem="",
    )


def _facts(test: BreakingTest | ProofTest) -> Facts:
    return proof_test_facts(test) if isinstance(test, ProofTest) else breaking_test_facts(test)
