"""Decides how assemblies stand in a table."""

from collections.abc import Collection, Iterable

from inventory.models import Assembly
from inventory.pages.links import cell_of, href_of
from inventory.pages.reading import day
from inventory.pages.table import Cell, Line, Table, build_table


def state_of(assembly: Assembly, *, is_held: bool) -> Cell:
    """Return whether an assembly may be used, and where it is."""
    if is_held:
        return Cell("under hold: do not use", shape="stop")
    if hasattr(assembly, "delivery_item"):
        delivery = assembly.delivery_item.delivery
        return Cell(f"delivered, {delivery.code}", href=href_of(delivery))
    return Cell("in the house")


def table_of_assemblies(assemblies: Iterable[Assembly], *, held: Collection[int] = ()) -> Table:
    """Return assemblies; their delivery and order line should be loaded."""
    return build_table(
        columns=("Assembly", "Kind", "Description", "Order", "Built", "State"),
        lines=(
            Line(
                (
                    cell_of(assembly),
                    assembly.get_kind_display(),
                    assembly.description,
                    cell_of(assembly.order_line.order if assembly.order_line else None),
                    day(assembly.built_at),
                    state_of(assembly, is_held=assembly.pk in held),
                ),
                is_held=assembly.pk in held,
            )
            for assembly in assemblies
        ),
        folds=True,
    )
