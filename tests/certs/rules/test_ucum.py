"""Unit codes against QUDT's table (CC BY 4.0) and UCUM; tests/vectors/README.md."""

import json
from pathlib import Path

import pytest

from certs.rules.ucum import UCUM

TABLE = Path(__file__).parents[2] / "vectors" / "units_ucum_qudt_rec20.json"
PUBLISHED = {row["symbol"]: row["ucum"] for row in json.loads(TABLE.read_text())["units"]}


@pytest.mark.parametrize("unit", [unit for unit in UCUM if unit != "ms"])
def test_published_code(unit):
    assert UCUM[unit] == PUBLISHED[unit]


def test_the_millisecond_is_the_second_with_its_prefix():
    # UCUM, tables 1 and 3: prefix "m", unit "s".
    assert UCUM["ms"] == "ms"
