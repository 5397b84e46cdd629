"""Decides how the decision on a measured force is shown: facts, and the budget as a table.

The words are those of `certs.documents.decision_told`, which paper uses too.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from certs.documents.decision_told import ToldComponent, ToldDecision, ToldFact, tell_decision
from certs.models import BreakingTest, ProofTest
from certs.queries.decisions import turned_down
from inventory.pages.facts import Fact
from inventory.pages.table import Column, Line, Table, build_table


@dataclass(frozen=True, slots=True)
class ShownDecision:
    """What `templates/certs/_decision.html` shows; `why_not` is empty where it may support."""

    told: ToldDecision
    facts: list[Fact]
    table: Table | None
    why_not: str


def decision_shown(test: BreakingTest | ProofTest) -> ShownDecision | None:
    """Show the decision that was kept with a test; None where none was."""
    told = tell_decision(decision=test.decision, uncertainty=test.uncertainty)
    if told is None:
        return None
    return ShownDecision(
        told=told,
        facts=facts_of(told.facts),
        table=table_of(told.components),
        why_not=turned_down(test),
    )


def facts_of(told: Iterable[ToldFact]) -> list[Fact]:
    """Give told facts the form that pages show."""
    return [Fact(fact.word, fact.text, note=fact.note) for fact in told]


def table_of(components: Iterable[ToldComponent]) -> Table | None:
    """Give the budget as a table; None without components."""
    lines = [
        Line(
            (
                part.name,
                part.distribution,
                part.divisor,
                part.degrees_of_freedom,
                part.contribution,
                part.source,
            )
        )
        for part in components
    ]
    if not lines:
        return None
    return build_table(
        columns=(
            "Component",
            "Distribution",
            Column("Divided by", is_number=True),
            Column("Degrees of freedom", is_number=True),
            Column("Contribution", is_number=True),
            "Source",
        ),
        lines=lines,
        folds=True,
    )
