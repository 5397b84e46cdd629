"""The lineage for narrow screens: cards in one column, a line for each edge, read off the SVG."""

import re
from itertools import pairwise

import pytest

from inventory.documents.lineage_nodes import LineageEdge, LineageNode
from inventory.documents.lineage_rail import draw_lineage_rail
from inventory.documents.lineage_walk import Folding
from tests.drawings import SVG, read_drawing, texts_of

HEAT = LineageNode("h", "heat", "H-1", href="/h/")
REEL = LineageNode("r", "reel", "R-1", href="/r/", is_lit=True)
PIECE = LineageNode("p", "piece", "P-1", href="/p/", is_held=True)
NODES = [PIECE, REEL, HEAT]
EDGES = [LineageEdge("h", "r"), LineageEdge("r", "p", "3 to 43 m")]


def cards(drawn):
    return [
        tuple(float(rect.get(key)) for key in ("x", "y", "width", "height"))
        for rect in read_drawing(drawn).iter(SVG + "rect")
    ]


def test_what_came_first_stands_on_top_whatever_the_order_told():
    drawn = texts_of(draw_lineage_rail(nodes=NODES, edges=EDGES))
    heights = [float(drawn[label].get("y")) for label in ("H-1", "R-1", "P-1")]
    assert heights == sorted(set(heights))


def test_each_edge_is_a_line_from_its_card_to_the_card_below():
    drawn = draw_lineage_rail(nodes=NODES, edges=EDGES)
    lines = [p.get("d") for p in read_drawing(drawn).iter(SVG + "path") if p.get("fill") == "none"]
    rows = [top for _, top, _, _ in cards(drawn)]
    ends = [
        (float(re.match(r"M\S+ (\S+?)H", d)[1]), float(re.findall(r" (\S+)H", d)[-1]))
        for d in lines
    ]
    within = [
        (sum(top <= start for top in rows) - 1, sum(top <= end for top in rows) - 1)
        for start, end in ends
    ]
    assert sorted(within) == [(0, 1), (1, 2)]


def test_cards_stand_apart_and_inside_however_many():
    nodes = [HEAT, *(LineageNode(f"p{i}", "piece", f"P-{i}") for i in range(60))]
    edges = [LineageEdge("h" if i < 9 else f"p{i // 9}", f"p{i}") for i in range(60)]
    drawn = draw_lineage_rail(nodes=nodes, edges=edges[1:])
    assert all(x >= 0 and x + width <= 340 for x, _, width, _ in cards(drawn))
    tops = sorted(top for _, top, _, _ in cards(drawn))
    assert all(below - above > 48 for above, below in pairwise(tops))


def test_a_crowd_is_folded_into_a_link_to_where_it_is_told():
    nodes = [HEAT, *(LineageNode(f"p{i}", "piece", f"P-{i}") for i in range(53))]
    edges = [LineageEdge("h", f"p{i}") for i in range(53)]
    drawn = draw_lineage_rail(nodes=nodes, edges=edges, folding=Folding(12, "#pieces"))
    assert "42 more" in texts_of(drawn)
    links = [link.get("href") for link in read_drawing(drawn).iter(SVG + "a")]
    assert links == ["/h/", "#pieces"]


def test_a_link_says_where_one_walks_from_it():
    drawn = draw_lineage_rail(nodes=NODES, edges=EDGES)
    links = {link.get("data-key"): link for link in read_drawing(drawn).iter(SVG + "a")}
    assert list(links) == ["h", "r", "p"]
    assert (links["r"].get("data-from"), links["r"].get("data-to")) == ("h", "p")
    assert links["r"].get("aria-current") == "true"
    assert links["h"].get("data-from") is None


def test_metres_stand_on_the_card_and_a_hold_is_told():
    drawn = draw_lineage_rail(nodes=NODES, edges=EDGES)
    assert {"3 to 43 m", "DO NOT USE"} <= set(texts_of(drawn))
    assert "Under hold, do not use: P-1." in read_drawing(drawn)[1].text


@pytest.mark.parametrize("nodes", [[], [REEL]], ids=["nothing known", "one thing alone"])
def test_small_lineages_are_drawn_too(nodes):
    assert len(cards(draw_lineage_rail(nodes=nodes, edges=[]))) == len(nodes)
