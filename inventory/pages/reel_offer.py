"""Decides how it is told what a reel, or the stock, can give."""

from collections.abc import Iterable

from inventory.pages.table import Column, Line, Table, build_table
from inventory.rules.metres import Stretch
from inventory.rules.units import format_metres


def table_of_stretches(stretches: Iterable[Stretch]) -> Table:
    """Return stretches of a reel that may be cut."""
    return build_table(
        columns=("Stretch", Column("Longest length", is_number=True)),
        lines=(Line((str(part), format_metres(part.length_mm))) for part in stretches),
    )
