"""How wires are drawn against their band: shapes, limits, and the same in words."""

from decimal import Decimal

import pytest

from certs.documents.strength_strip import StripWire, describe_strip, draw_strengths

INSIDE = StripWire(1, Decimal(1900), Decimal(1770), Decimal(2090))
OUTSIDE = StripWire(2, Decimal(1700), Decimal(1770), Decimal(2090))
THICKER = StripWire(3, Decimal(1900), Decimal(1770), Decimal(2060))
UNJUDGED = StripWire(4, Decimal(1500))


def drawn(*wires):
    return draw_strengths(wires=wires, title="Strengths")


def test_it_says_in_words_what_it_shows():
    said = describe_strip([INSIDE, OUTSIDE, UNJUDGED])
    assert said == "3 wires from 1500 to 1900 N/mm². Outside their band: wire 2."
    assert describe_strip([INSIDE]).endswith("None lies outside.")


@pytest.mark.parametrize(
    ("wires", "words"),
    [
        pytest.param((INSIDE,), {"inside its band"}, id="inside"),
        pytest.param((OUTSIDE,), {"outside its band"}, id="outside"),
        pytest.param((UNJUDGED,), {"not judged"}, id="without a band"),
        pytest.param(
            (INSIDE, OUTSIDE, UNJUDGED),
            {"inside its band", "outside its band", "not judged"},
            id="all three",
        ),
    ],
)
def test_only_the_shapes_that_occur_are_explained(wires, words):
    svg = drawn(*wires)
    known = {"inside its band", "outside its band", "not judged"}
    assert {word for word in known if f">{word}<" in svg} == words


def test_an_outsider_differs_by_shape_and_not_by_colour_alone():
    # A disc for the wire and one in the legend; no disc for the diamond.
    assert drawn(OUTSIDE).count("<circle") == 0
    assert drawn(INSIDE).count("<circle") == 2


def test_each_run_of_wires_of_one_band_has_its_ground_and_limits():
    svg = drawn(INSIDE, OUTSIDE, THICKER)
    assert svg.count("<rect") == 2
    assert ">2090<" in svg
    assert ">2060<" in svg


def test_the_same_wires_give_the_same_bytes():
    assert drawn(INSIDE, OUTSIDE) == drawn(INSIDE, OUTSIDE)


def test_many_wires_are_numbered_now_and_then():
    wires = [StripWire(n, Decimal(1900)) for n in range(1, 101)]
    svg = drawn(*wires)
    assert ">1</text>" in svg
    assert ">2</text>" not in svg


def test_nothing_is_drawn_outside_the_picture():
    svg = drawn(StripWire(1, Decimal(250)), StripWire(2, Decimal(4900), Decimal(1), Decimal(9999)))
    heights = [float(part.split('"')[0]) for part in svg.split('cy="')[1:]]
    assert all(0 <= y <= 320 for y in heights)
