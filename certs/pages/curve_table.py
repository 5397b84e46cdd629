"""Decides how the facts of a load curve stand in a table beside it."""

from collections.abc import Iterable

from certs.documents.load_curve_table import CurveRow
from inventory.pages.table import Column, Line, Table, build_table


def table_of_curve(rows: Iterable[CurveRow]) -> Table:
    """Return the moments of a force log as a table."""
    return build_table(
        columns=(
            Column("Time, s", is_number=True),
            Column("Force", is_number=True),
            "What it is",
        ),
        lines=(Line((row.time_s, row.force, row.remark)) for row in rows),
    )
