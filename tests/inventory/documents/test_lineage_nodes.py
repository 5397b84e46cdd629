import pytest

from inventory.documents.lineage_nodes import Lineage, LineageEdge, LineageNode, fold_siblings


def reel_with_pieces(count, *, certificates=False, **details):
    nodes = [LineageNode("r", "reel", "R-1")]
    edges = []
    for i in range(count):
        nodes.append(LineageNode(f"p{i}", "piece", f"P-{i}", **details.get(f"p{i}", {})))
        edges.append(LineageEdge("r", f"p{i}", "part"))
        if certificates:
            nodes.append(LineageNode(f"c{i}", "certificate", f"C-{i}"))
            edges.append(LineageEdge(f"p{i}", f"c{i}"))
    return Lineage(tuple(nodes), tuple(edges))


def labels(lineage, kind):
    return [node.label for node in lineage.nodes if node.kind == kind]


def test_forty_siblings_stay_as_they_are():
    lineage = reel_with_pieces(40)
    assert fold_siblings(lineage) == lineage


def test_the_forty_first_is_folded():
    pieces = labels(fold_siblings(reel_with_pieces(41)), "piece")
    assert pieces == [*(f"P-{i}" for i in range(39)), "2 more"]


def test_what_came_from_the_folded_is_folded_with_them():
    folded = fold_siblings(reel_with_pieces(90, certificates=True))
    assert len(labels(folded, "certificate")) == 40
    assert labels(folded, "certificate")[-1] == "51 more"


def test_what_is_lit_or_held_is_kept():
    lineage = reel_with_pieces(90, p70={"is_lit": True}, p80={"is_held": True})
    assert {"P-70", "P-80"} <= set(labels(fold_siblings(lineage), "piece"))


def test_a_hold_inside_a_fold_is_said():
    held = {f"p{i}": {"is_held": True} for i in range(60)}
    more = fold_siblings(reel_with_pieces(60, **held)).nodes[-1]
    assert (more.label, more.is_held, more.note) == ("21 more", True, "some under hold: see table")


def test_a_node_speaks_its_hold():
    node = LineageNode("a", "assembly", "A-1", note="two legs", is_held=True)
    assert node.spoken == "assembly A-1, two legs, under hold: do not use"


def test_an_edge_needs_both_ends():
    with pytest.raises(ValueError, match="no node for the edge"):
        Lineage((LineageNode("a", "reel", "R"),), (LineageEdge("a", "b"),))


def test_a_key_stands_for_one_node():
    with pytest.raises(ValueError, match="share a key"):
        Lineage((LineageNode("a", "reel", "R"), LineageNode("a", "heat", "H")), ())
