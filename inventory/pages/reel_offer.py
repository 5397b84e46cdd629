"""Decides how it is told what a reel, or the stock, can give."""

from collections.abc import Iterable

from inventory.pages.reading import shown_metres
from inventory.pages.table import Column, Line, Table, build_table
from inventory.rules.metres import Stretch


def table_of_stretches(stretches: Iterable[Stretch]) -> Table:
    """Return stretches of a reel that may be cut."""
    return build_table(
        columns=("Stretch", Column("Longest length", is_number=True)),
        lines=(Line((str(part), shown_metres(part.length_mm))) for part in stretches),
    )
