import csv
import math
from pathlib import Path

import pytest

from certs.rules.spc_constants import spc_constants

VECTORS = Path(__file__).parents[2] / "vectors"
with (VECTORS / "control_chart_constants.csv").open(newline="", encoding="utf-8") as sheet:
    PUBLISHED = tuple(csv.DictReader(sheet))
NAMES = {
    "d2": "d2",
    "d3": "d3",
    "c4": "c4",
    "A2": "a2",
    "A3": "a3",
    "B3": "b3",
    "B4": "b4",
    "D3": "d3_limit",
    "D4": "d4_limit",
}


# Tables of control chart constants, as printed everywhere; see tests/vectors/README.md.
@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: f"samples of {row['n']}")
@pytest.mark.parametrize("name", NAMES)
def test_constant_is_the_published_one(row, name):
    places = 4 if name in {"d2", "d3", "c4"} else 3
    computed = getattr(spc_constants(int(row["n"])), NAMES[name])
    assert round(computed, places) == float(row[name])


def test_range_of_two_has_its_closed_form():
    two = spc_constants(2)
    assert two.d2 == pytest.approx(2 / math.sqrt(math.pi), abs=1e-9)
    assert two.d3 == pytest.approx(math.sqrt(2 - 4 / math.pi), abs=1e-6)
    assert two.c4 == pytest.approx(math.sqrt(2 / math.pi), abs=1e-12)


# Known closed form for three: the mean range is 3 over the root of pi.
def test_mean_range_of_three_has_its_closed_form():
    assert spc_constants(3).d2 == pytest.approx(3 / math.sqrt(math.pi), abs=1e-9)


@pytest.mark.parametrize("n", [1, 0, -3])
def test_one_value_has_no_range(n):
    with pytest.raises(ValueError, match="has no range"):
        spc_constants(n)
