import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.documents.hatching import Box, Hatch, hatch_path

LINES = [Hatch.RISING, Hatch.FALLING, Hatch.CROSSED, Hatch.LEVEL]


def points(path):
    return [tuple(map(float, pair)) for pair in re.findall(r"[ML](\S+?) ([^ML]+)", path)]


def test_no_hatching_draws_nothing():
    assert hatch_path(Box(0, 0, 10, 10), hatch=Hatch.NONE, pitch=2) == ""


def test_level_lines_run_from_edge_to_edge():
    assert hatch_path(Box(1, 0, 9, 10), hatch=Hatch.LEVEL, pitch=4) == "M1 4L9 4M1 8L9 8"


def test_crossed_is_rising_and_falling():
    box = Box(3, 1, 20, 12)
    both = [hatch_path(box, hatch=kind, pitch=4) for kind in (Hatch.RISING, Hatch.FALLING)]
    assert hatch_path(box, hatch=Hatch.CROSSED, pitch=4) == "".join(both)


@pytest.mark.parametrize("hatch", LINES)
@given(st.floats(0, 900), st.floats(0, 100), st.floats(0.5, 300), st.floats(1, 60))
def test_every_line_ends_inside_its_box(hatch, left, top, width, height):
    box = Box(left, top, left + width, top + height)
    for x, y in points(hatch_path(box, hatch=hatch, pitch=6)):
        assert box.left - 0.01 <= x <= box.right + 0.01
        assert box.top - 0.01 <= y <= box.bottom + 0.01


@pytest.mark.parametrize(("hatch", "slope"), [(Hatch.RISING, -1), (Hatch.FALLING, 1)])
def test_slanted_lines_lean_as_named(hatch, slope):
    ends = points(hatch_path(Box(0, 0, 50, 30), hatch=hatch, pitch=7))
    for start, end in zip(ends[::2], ends[1::2], strict=True):
        assert end[1] - start[1] == pytest.approx(slope * (end[0] - start[0]), abs=0.03)
