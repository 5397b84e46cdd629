from inventory.documents.lineage_nodes import LineageEdge, LineageNode
from inventory.documents.lineage_table import lineage_table


def test_each_node_says_what_it_came_from_and_leads_to():
    rows = lineage_table(
        nodes=[LineageNode("r", "reel", "R-1"), LineageNode("p", "piece", "P-1", is_held=True)],
        edges=[LineageEdge("r", "p", "3 to 43 m")],
    )
    assert [(row.comes_from, row.leads_to, row.is_held) for row in rows] == [
        ((), ("piece P-1 (3 to 43 m)",), False),
        (("reel R-1 (3 to 43 m)",), (), True),
    ]


def test_nothing_is_folded_in_the_table():
    nodes = [LineageNode(str(i), "piece", f"P-{i}") for i in range(100)]
    assert [row.label for row in lineage_table(nodes=nodes, edges=[])] == [n.label for n in nodes]
