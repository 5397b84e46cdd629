import itertools
import re

import pytest

from certs.documents.control_chart import (
    LEAST_WIDTH,
    ChartLines,
    ChartPoint,
    describe_chart,
    draw_control_chart,
)
from certs.documents.control_marks import MARKS, WORDS
from certs.rules.maker_record import Standing
from tests.drawings import SVG, read_drawing, texts_of

LINES = ChartLines(mean=1.05, lower=0.98, upper=1.12)


def point(ratio, standing=Standing.MEETS, **said):
    values = {"code": "BT-00001", "day": "2026-03-02", "href": "/tests/breaking/BT-00001/"}
    return ChartPoint(ratio=ratio, standing=standing, **(values | said))


def draw(*points, lines=LINES):
    return draw_control_chart(points=points, lines=lines, title="Record")


def levels(svg):
    """Give the heights of the lines across the field by the words at their ends."""
    paths = [
        path.get("d").split()[1].split("H")[0]
        for path in read_drawing(svg).iter(f"{SVG}path")
        if path.get("class") in {"draw-accent-line", "draw-line"}
        and re.fullmatch(r"M\S+ [\d.]+H[\d.]+", path.get("d"))
    ]
    return [float(height) for height in paths]


def test_lines_are_named_with_their_figures():
    said = set(texts_of(draw(point(1.04))))
    assert {"required 1", "mean 1.050", "lower 0.980", "upper 1.120"} <= said


def test_lines_lie_in_their_order():
    heights = levels(draw(point(1.04)))
    assert heights == sorted(heights, reverse=True)
    assert len(heights) == 4


def test_without_limits_only_the_required_force_is_marked():
    said = set(texts_of(draw(point(1.04), lines=None)))
    assert "required 1" in said
    assert not any(word.startswith(("mean", "upper", "lower")) for word in said)


def test_the_point_lies_on_the_scale():
    svg = draw(point(1.05))
    circle = read_drawing(svg).find(f".//{SVG}circle")
    assert float(circle.get("cy")) in levels(svg)


def test_every_kind_of_result_has_a_shape_of_its_own():
    shapes = {
        re.sub(r'class="[^"]*"|(fill|stroke)="[^"]*"', "", MARKS[one](0, 0)) for one in Standing
    }
    assert len(shapes) == len(Standing) == len(WORDS)


@pytest.mark.parametrize("standing", Standing)
def test_the_legend_explains_what_occurs_and_nothing_else(standing):
    said = set(texts_of(draw(point(1.04, standing))))
    assert {word for word in WORDS.values() if word in said} == {WORDS[standing]}


def test_a_result_beyond_the_limits_has_a_ring_and_is_named():
    svg = draw(point(1.04), point(1.3, code="BT-00002", is_outside=True))
    assert len(list(read_drawing(svg).iter(f"{SVG}circle"))) == 3 + 1
    assert "Beyond the limits: BT-00002." in svg


def test_points_lead_to_their_tests():
    links = list(read_drawing(draw(point(1.04))).iter(f"{SVG}a"))
    assert [link.get("href") for link in links] == ["/tests/breaking/BT-00001/"]


def test_it_is_said_in_words():
    said = describe_chart(
        points=[point(1.04), point(0.96, Standing.FAILS, code="BT-00002", day="2026-04-01")],
        lines=LINES,
    )
    assert said.startswith("2 tests from 2026-03-02 to 2026-04-01")
    assert "between 0.960 and 1.040" in said
    assert "Below the required force: BT-00002." in said


def test_nothing_is_drawn_of_nothing():
    assert "No tests recorded" in draw(lines=None)


def test_many_tests_make_it_wider():
    few, many = (read_drawing(draw(*[point(1.04)] * count)) for count in (3, 60))
    assert float(few.get("width")) == LEAST_WIDTH
    assert float(many.get("width")) > 1000


@pytest.mark.parametrize(
    "lines",
    [
        pytest.param(ChartLines(mean=1.0, lower=1.0, upper=1.0), id="all the same"),
        pytest.param(ChartLines(mean=1.001, lower=0.999, upper=1.003), id="close together"),
    ],
)
def test_names_of_close_lines_stand_apart(lines):
    svg = draw(point(1.0), point(1.2), lines=lines)
    named = ("required", "mean", "lower", "upper")
    heights = sorted(
        float(place.get("y")) for word, place in texts_of(svg).items() if word.startswith(named)
    )
    assert all(late - early >= 12.9 for early, late in itertools.pairwise(heights))


def test_the_same_record_gives_the_same_drawing():
    assert draw(point(1.04), point(1.06)) == draw(point(1.04), point(1.06))
