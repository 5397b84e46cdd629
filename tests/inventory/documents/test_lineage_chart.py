from itertools import pairwise

import pytest

from inventory.documents.lineage_chart import draw_lineage
from inventory.documents.lineage_nodes import LineageEdge, LineageNode
from inventory.documents.svg import text_width
from tests.drawings import SVG, read_drawing, texts_of

HEAT = LineageNode("h", "heat", "H-1")
REEL = LineageNode("r", "reel", "R-1", href="/reels/1/", is_lit=True)
PIECE = LineageNode("p", "piece", "P<1>", note="40 m", is_held=True)


def chain():
    return draw_lineage(
        nodes=[HEAT, REEL, PIECE],
        edges=[LineageEdge("h", "r", "whole"), LineageEdge("r", "p", "3 to 43 m")],
    )


def test_what_came_first_stands_left():
    drawn = texts_of(chain())
    places = [float(drawn[label].get("x")) for label in ("H-1", "R-1", "P<1>")]
    assert places == sorted(set(places))


def test_every_edge_is_a_line_from_card_to_card():
    cards = list(read_drawing(chain()).iter(SVG + "rect"))
    right_of_heat = float(cards[0].get("x")) + float(cards[0].get("width"))
    lines = [
        p.get("d") for p in read_drawing(chain()).iter(SVG + "path") if p.get("fill") == "none"
    ]
    assert len(lines) == 2
    assert float(lines[0][1:].split()[0]) == pytest.approx(right_of_heat, abs=0.1)
    assert float(lines[0].split()[-2]) == pytest.approx(float(cards[1].get("x")), abs=0.1)


def test_edges_carry_their_words():
    assert {"whole", "3 to 43 m"} <= set(texts_of(chain()))


def test_a_hold_is_written_on_the_card_and_told():
    assert "DO NOT USE" in texts_of(chain())
    assert "Under hold, do not use: P<1>." in read_drawing(chain())[1].text


def test_a_card_leads_to_its_page():
    link = read_drawing(chain()).find(f".//{SVG}a")
    assert (link.get("href"), link[0].text) == ("/reels/1/", "reel R-1")


@pytest.mark.parametrize(
    ("nodes", "cards"),
    [pytest.param([], 0, id="nothing known"), pytest.param([REEL], 1, id="one thing alone")],
)
def test_small_lineages_are_drawn_too(nodes, cards):
    root = read_drawing(draw_lineage(nodes=nodes, edges=[]))
    assert len(list(root.iter(SVG + "rect"))) == cards


def test_the_same_lineage_gives_the_same_bytes():
    assert chain() == chain()


def test_all_cards_stand_apart_and_inside():
    nodes = [HEAT, *(LineageNode(f"p{i}", "piece", f"P-{i}") for i in range(150))]
    edges = [LineageEdge("h" if i < 12 else f"p{i // 12}", f"p{i}") for i in range(150)]
    root = read_drawing(draw_lineage(nodes=nodes, edges=edges[1:]))
    width, height = (float(root.get(key)) for key in ("width", "height"))
    places = [tuple(float(r.get(k)) for k in ("x", "y")) for r in root.iter(SVG + "rect")]
    assert all(0 <= x < width - 100 and 0 <= y < height - 40 for x, y in places)
    for x in {place[0] for place in places}:
        column = sorted(place[1] for place in places if place[0] == x)
        assert all(b - a > 48 for a, b in pairwise(column))


def test_the_words_of_an_edge_are_whole_and_stand_between_the_cards():
    words = "1112.000 to 1124.000 m"
    svg = draw_lineage(nodes=[HEAT, REEL], edges=[LineageEdge("h", "r", words)])
    end = float(texts_of(svg)[words].get("x"))
    heat, reel = read_drawing(svg).iter(SVG + "rect")
    assert end < float(reel.get("x"))
    right_of_heat = float(heat.get("x")) + float(heat.get("width"))
    assert end - text_width(words, size=10) > right_of_heat
