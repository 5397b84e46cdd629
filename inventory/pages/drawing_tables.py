"""Decides how the facts of a drawing stand in a table beside it."""

from collections.abc import Iterable

from inventory.documents.lineage_table import LineageRow
from inventory.documents.reel_map_table import ReelMapRow
from inventory.pages.table import Cell, Column, Line, Table, build_table


def table_of_reel_map(rows: Iterable[ReelMapRow]) -> Table:
    """Return the stretches of a reel as a table."""
    return build_table(
        columns=(
            Column("From, m", is_number=True),
            Column("To, m", is_number=True),
            Column("Length, m", is_number=True),
            "What",
            "Where it went",
            "Heats",
        ),
        lines=(
            Line(
                (
                    row.from_m,
                    row.to_m,
                    row.length_m,
                    Cell(row.label, href=row.href),
                    Cell(row.went, shape="stop" if row.is_held else ""),
                    row.heats,
                ),
                is_lit=row.is_lit,
                is_held=row.is_held,
            )
            for row in rows
        ),
    )


def table_of_lineage(rows: Iterable[LineageRow]) -> Table:
    """Return the nodes of a lineage as a table."""
    return build_table(
        columns=("Kind", "Name", "Note", "Comes from", "Leads to", "State"),
        lines=(
            Line(
                (
                    row.kind,
                    Cell(row.label, href=row.href),
                    row.note,
                    "; ".join(row.comes_from),
                    "; ".join(row.leads_to),
                    Cell("under hold: do not use", shape="stop") if row.is_held else "",
                ),
                is_lit=row.is_lit,
                is_held=row.is_held,
            )
            for row in rows
        ),
    )
