"""Decides how the wires of a test are shown: each against its band, and the same as a table.

The bands are those that were frozen with the verdict, not those of the tables of today.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from certs.documents.strength_strip import StripWire, draw_strengths
from certs.models import WireTest
from certs.queries.wire_tests import wires_of
from certs.rules.derived import trimmed
from certs.rules.wire_grade import TOPIC
from certs.rules.wire_strength import Wire, shown_newtons, shown_strength
from inventory.documents.svg import Drawing
from inventory.pages.table import Cell, Column, Line, Table, build_table

Band = tuple[Decimal, Decimal]


@dataclass(frozen=True, slots=True)
class WireFigure:
    """The drawing and its table."""

    drawing: Drawing
    table: Table


def figure_of_wires(test: WireTest) -> WireFigure:
    """Draw the wires of a test and put them into a table."""
    wires, bands = wires_of(test), _bands(test)
    shown = [_shown(number, wire, bands) for number, wire in enumerate(wires, 1)]
    title = f"Strength of each wire, test {test.code}"
    columns = (
        Column("Wire", is_number=True),
        "Layer",
        Column("Diameter", is_number=True),
        Column("Stands for", is_number=True),
        Column("Force", is_number=True),
        Column("Retest", is_number=True),
        Column("Strength", is_number=True),
        "Band",
        "Verdict",
    )
    lines = (_line(one, wire) for one, wire in zip(shown, wires, strict=True))
    return WireFigure(
        drawing=draw_strengths(wires=shown, title=title),
        table=build_table(columns=columns, lines=lines, folds=True),
    )


def _shown(number: int, wire: Wire, bands: Mapping[str, Band]) -> StripWire:
    band = bands.get(f"wires of {trimmed(wire.diameter_mm)} mm") if wire.is_judged else None
    return StripWire(number, wire.strength, *(band or (None, None)))


def _bands(test: WireTest) -> dict[str, Band]:
    """Find the limits that the finding on strengths was made with, by size of wire."""
    limits = {(symbol, name): value for symbol, name, value in _limits(test)}
    return {
        name: (value, limits["upper", name])
        for (symbol, name), value in limits.items()
        if symbol == "lower"
    }


def _limits(test: WireTest) -> Iterator[tuple[str, str, Decimal]]:
    for found in test.findings:
        for one in found["given"] if found["topic"] == TOPIC else ():
            if one["symbol"] in {"lower", "upper"}:
                yield one["symbol"], one["name"], Decimal(one["value"])


def _line(shown: StripWire, wire: Wire) -> Line:
    return Line(
        (
            str(shown.number),
            wire.layer,
            f"{trimmed(wire.diameter_mm)} mm",
            str(wire.represents),
            shown_newtons(wire.force_mn),
            "" if wire.retest_force_mn is None else shown_newtons(wire.retest_force_mn),
            f"{shown_strength(wire.strength)} N/mm²",
            "" if shown.lower is None else f"{shown.lower:.0f} to {shown.upper:.0f} N/mm²",
            _verdict(shown),
        )
    )


def _verdict(shown: StripWire) -> Cell:
    if shown.lower is None:
        return Cell("not judged")
    if shown.is_outside:
        return Cell("outside", shape="stop")
    return Cell("inside", shape="good")
