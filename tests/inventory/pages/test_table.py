import pytest

from inventory.documents.lineage_nodes import LineageEdge, LineageNode
from inventory.documents.lineage_table import lineage_table
from inventory.documents.reel_map_table import reel_map_table
from inventory.documents.reel_stretches import MapKind, MapStretch
from inventory.pages.drawing_tables import table_of_lineage, table_of_reel_map
from inventory.pages.table import Cell, Column, Line, build_table


def texts(table):
    return [[cell.text for _, cell in row.under] for row in table.rows]


def test_cells_stand_under_their_columns():
    table = build_table(columns=["Reel", Column("m", is_number=True)], lines=[Line(["R-1", "5"])])
    assert table.rows[0].under == (
        (Column("Reel"), Cell("R-1")),
        (Column("m", is_number=True), Cell("5")),
    )


@pytest.mark.parametrize("cells", [["R-1"], ["R-1", "5", "6"]])
def test_a_line_fills_every_column(cells):
    with pytest.raises(ValueError, match=r"zip\(\)"):
        build_table(columns=["Reel", "m"], lines=[Line(cells)])


def test_a_reel_map_becomes_a_table_with_its_holds():
    stretches = [MapStretch(0, 40_000, MapKind.HELD, "hold", href="/holds/1/")]
    table = table_of_reel_map(reel_map_table(length_mm=100_000, stretches=stretches))
    assert texts(table) == [
        ["0", "40", "40", "hold", "on the reel, under hold: do not use", ""],
        ["40", "100", "60", "", "still on the reel", ""],
    ]
    assert [row.is_held for row in table.rows] == [True, False]


def test_a_lineage_becomes_a_table():
    nodes = [LineageNode("r", "reel", "R-1"), LineageNode("p", "piece", "P-1", is_held=True)]
    rows = lineage_table(nodes=nodes, edges=[LineageEdge("r", "p", "3 to 43 m")])
    assert texts(table_of_lineage(rows)) == [
        ["reel", "R-1", "", "", "piece P-1 (3 to 43 m)", ""],
        ["piece", "P-1", "", "reel R-1 (3 to 43 m)", "", "under hold: do not use"],
    ]
