"""Decides how holds are told: what is held, why, since when."""

from collections.abc import Iterable

from inventory.models import Hold
from inventory.pages.links import cell_of, href_of
from inventory.pages.reading import day, moment, shown_metres
from inventory.pages.table import Cell, Line, Table, build_table
from inventory.queries.hold_subject import subject_of


def state_of(hold: Hold) -> Cell:
    """Return whether a hold stands."""
    if hold.released_at is None:
        return Cell("standing: do not use", shape="stop")
    return Cell(f"released {day(hold.released_at)}", shape="past")


def reach_of(hold: Hold) -> str:
    """Return the metres that a hold is on, if it is on a stretch."""
    if hold.from_mm is None or hold.to_mm is None:
        return ""
    return f"{shown_metres(hold.from_mm)} to {shown_metres(hold.to_mm)}"


def table_of_holds(holds: Iterable[Hold]) -> Table:
    """Return holds with what they are on."""
    return build_table(
        columns=("Hold", "On", "What is in doubt", "Placed", "State"),
        lines=(
            Line(
                (
                    Cell(hold.code, href=href_of(hold)),
                    cell_of(subject_of(hold), note=reach_of(hold)),
                    hold.reason,
                    moment(hold.placed_at),
                    state_of(hold),
                )
            )
            for hold in holds
        ),
        folds=True,
    )
