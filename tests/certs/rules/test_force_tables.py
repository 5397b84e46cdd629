"""The printed forces held against one another and against the grades worked from them."""

from decimal import Decimal

import pytest

from certs.rules.breaking_force import derive_from_table, whole_newtons
from tests.certs.rules.tables import GRADE_NAMES, TABLE_ROWS, factor, rope_of


# The effective grades F/(K d2) of the grade table, worked again from every row of API Spec 9A
# Table C.1 and US SPR 198-50 (via Machinery's Handbook 31): range over sizes, and at 1/2 in.
@pytest.mark.parametrize(
    ("standard", "grade", "make", "half_inch"),
    [
        ("API Spec 9A", "IPS", "6x7", 1711),
        ("API Spec 9A", "EIP", "6x7", 1877),
        ("US SPR 198-50", "PS", "6x7", 1489),
        ("US SPR 198-50", "IPS", "18x7", 1656),
    ],
)
def test_effective_grades_follow_from_the_force_tables(standard, grade, make, half_inch):
    effective = {}
    for row in TABLE_ROWS:
        if (row.standard, row.grade, row.construction) == (standard, grade, make):
            designation = rope_of(row)
            force_n = whole_newtons(derive_from_table(designation, row))
            area = factor(make, "FC").K * designation.diameter_mm**2
            effective[row.diameter] = round(force_n / area)
    (held,) = [row for row in GRADE_NAMES if row.us_grade == f"{grade} {make} FC"]
    assert held.metric_grade == f"{min(effective.values())}-{max(effective.values())}"
    assert effective["1/2"] == half_inch


# Of one construction and grade a printed force follows the square of the size: a wrong figure in
# one row would stand out. Aircraft cord is thin, and its printed figures are coarse and rounded.
def test_no_printed_force_stands_out_of_its_table():
    ratios = {}
    for row in TABLE_ROWS:
        if not row.standard.startswith("MIL"):
            designation = rope_of(row)
            share = whole_newtons(derive_from_table(designation, row)) / designation.diameter_mm**2
            key = (row.standard, row.construction, row.core, row.grade)
            ratios.setdefault(key, []).append(share)
    assert len(ratios) == 17
    for key, shares in ratios.items():
        assert max(shares) / min(shares) < Decimal("1.11"), key
