"""Decides how build and proof rules of an assembly's paper are told, from its snapshot alone.

A paper issued before these were kept has neither, and says nothing of them.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from inventory.pages.table import Cell, Line, Table, build_table

Facts = Mapping[str, Any]


def built_and_proved(assembly: Facts | None) -> dict[str, Table]:
    """Give the tables that a snapshot has something for, by their names on the page."""
    told = assembly or {}
    tables = {
        "build": _build((*told.get("build", ()), *told.get("proof_held", ()))),
        "proof_rules": _rules(told.get("proof_rules", ())),
    }
    return {name: table for name, table in tables.items() if table.rows}


def _build(findings: Iterable[Facts]) -> Table:
    return build_table(
        columns=("What was looked at", "Finding", "What was found", "Held against"),
        lines=(
            Line(
                (
                    one["topic"],
                    one["verdict_text"],
                    one["text"],
                    Cell(one["rule"], note=one["source"]),
                )
            )
            for one in findings
        ),
        folds=True,
    )


def _rules(rules: Iterable[Facts]) -> Table:
    return build_table(
        columns=("Rules", "Do they apply?", "Why", "What they ask for"),
        lines=(
            Line(
                (
                    one["name"],
                    one["applies"],
                    Cell(one["reason"], note=one["source"]),
                    "; ".join(
                        f"{asked['rule']}, {asked['legs']}: {asked['load']}"
                        for asked in one["asked"]
                    ),
                )
            )
            for one in rules
        ),
        folds=True,
    )
