import csv
from decimal import Decimal

import pytest

from certs.rules.specification_row import decimal_or_none, size_mm
from tests.certs.rules.tables import SPECIFICATION, TABLE_ROWS, factor


# One inch is 25.4 mm exactly (NIST SP 811, Appendix B).
@pytest.mark.parametrize(
    ("text", "unit", "expected"),
    [
        ("12.5", "mm", "12.5"),
        ("13.0", "mm", "13"),
        ("1/32", "in", "0.79375"),
        ("1-3/8", "in", "34.925"),
        ("0.0469", "in", "1.19126"),
        ("0", "in", "0"),
    ],
)
def test_size_is_read_exactly(text, unit, expected):
    assert size_mm(text, unit=unit) == Decimal(expected)


def test_empty_cell_is_no_value_and_not_nought():
    assert decimal_or_none("") is None
    assert decimal_or_none("0") == 0


def test_factor_without_mass_holds_none():
    held = factor("1x19", "-")
    breaking_force_factor, mass_factor = held.K, held.W
    assert breaking_force_factor == Decimal("0.5253")
    assert mass_factor is None
    assert held.source.is_provisional


@pytest.mark.parametrize(
    ("standard", "name"),
    [
        ("API Spec 9A", "API Spec 9A (26th ed 2011) Table C.1"),
        ("GOST 7667-80", "GOST 7667-80 (1980 (supplier copy))"),
        ("US SPR 198-50", "US SPR 198-50 (via Machinery's Handbook 31) Table 1 p.2714"),
    ],
)
def test_table_is_named_as_a_reader_would_cite_it(standard, name):
    assert next(row for row in TABLE_ROWS if row.standard == standard).name == name


@pytest.mark.parametrize("sheet", sorted(SPECIFICATION.glob("*.csv")), ids=lambda path: path.stem)
def test_every_row_held_says_how_well_it_is_known(sheet):
    with sheet.open(newline="", encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    assert rows
    assert all(row["confidence"] for row in rows)
