from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.derived import Gap, round_half_up, trimmed
from certs.rules.rope_match import NoBasis
from certs.rules.tolerance import agreed_limits, diameter_limits, limits_from_table
from tests.certs.rules.tables import (
    API_INCH,
    API_METRIC,
    TABLE_ROWS,
    TOLERANCES,
    rope,
    rope_of,
    spoken,
)

EN = "EN 12385-4"
API = "API Spec 9A"
WRTB = "WRTB"


# API Spec 9A 26th edition (2011), Table C.1, diameter columns: metric rows to the figure.
@pytest.mark.parametrize("row", API_METRIC, ids=spoken)
def test_limits_are_those_printed_in_api_9a(row):
    limits = diameter_limits(rope_of(row), standard=API, rows=TOLERANCES)
    assert round_half_up(limits.min_mm) == Decimal(row.dia_min)
    assert round_half_up(limits.max_mm) == Decimal(row.dia_max)


# The same columns for inch rows, printed in mm from a nominal size already rounded (5/16 in: 7.94,
# 8.42): one unit of the third figure is all they may differ.
@pytest.mark.parametrize("row", API_INCH, ids=spoken)
def test_inch_limits_agree_with_api_9a_to_the_third_figure(row):
    limits = diameter_limits(rope_of(row), standard=API, rows=TOLERANCES)
    unit = Decimal(1).scaleb(Decimal(row.dia_max).as_tuple().exponent)
    assert round_half_up(limits.min_mm) == Decimal(row.dia_min)
    assert abs(round_half_up(limits.max_mm) - Decimal(row.dia_max)) <= unit


# EN 12385-4, as printed by a rope supplier: which row a border belongs to is read from API 9A,
# where 8 mm has 5 %; the other borders follow it.
@pytest.mark.parametrize(
    ("size", "make", "highest", "difference"),
    [
        ("2", "6x7-WSC", "2.16", "0.14"),
        ("3.9", "6x7-WSC", "4.212", "0.273"),
        ("4", "6x7-WSC", "4.28", "0.24"),
        ("6", "6x7-WSC", "6.36", "0.3"),
        ("7", "6x7-WSC", "7.42", "0.35"),
        ("8", "6x7-WSC", "8.4", "0.32"),
        ("26", "6x36WS-IWRC", "27.3", "1.04"),
        ("10", "6x24FC-FC", "10.5", "0.6"),
    ],
)
def test_european_limits(size, make, highest, difference):
    limits = diameter_limits(rope(size, make), standard=EN, rows=TOLERANCES)
    assert (limits.min_mm, trimmed(limits.max_mm)) == (Decimal(size), highest)
    assert trimmed(limits.difference.stated) == difference


# US Wire Rope Technical Board oversize limits: the upper size of a range belongs to it.
@pytest.mark.parametrize(
    ("size", "percent"),
    [("1/16", 8), ("1/8", 8), ("5/32", 7), ("3/16", 7), ("1/4", 6), ("5/16", 6), ("3/8", 5)],
)
def test_american_limits(size, percent):
    designation = rope(size, "6x7-WSC", "IPS", "in")
    limits = diameter_limits(designation, standard=WRTB, rows=TOLERANCES)
    assert limits.max_mm == designation.diameter_mm * (100 + percent) / 100


def test_limit_is_worked_in_the_open():
    limits = diameter_limits(rope("12"), standard=EN, rows=TOLERANCES)
    assert "dmax = 12 × (100 + 5) / 100 = 12.6 mm → 12.6 mm" in limits.highest.steps()[3]
    assert limits.source.name.startswith("EN 12385-4 limits as printed by a rope supplier")


@pytest.mark.parametrize(
    ("measured", "expected"),
    [("11.99", False), ("12", True), ("12.6", True), ("12.61", False)],
)
def test_measured_diameter_is_held_against_the_limits(measured, expected):
    limits = diameter_limits(rope("12"), standard=EN, rows=TOLERANCES)
    assert limits.contains(Decimal(measured)) is expected


@pytest.mark.parametrize("size", ["1", "1.5", "1.9"])
def test_below_two_millimetres_there_is_a_gap_and_no_number(size):
    gap = diameter_limits(rope(size, "6x7-WSC"), standard=EN, rows=TOLERANCES)
    assert isinstance(gap, Gap)
    assert gap.reason == (
        "No published limit below 2 mm: agree the value with the maker and enter it."
    )


@pytest.mark.parametrize(
    ("standard", "words"),
    [
        pytest.param(API, "4 mm under API Spec 9A", id="size-outside-the-table"),
        pytest.param("ISO 2408", "4 mm under ISO 2408", id="standard-not-held"),
    ],
)
def test_what_was_not_read_is_a_gap(standard, words):
    gap = diameter_limits(rope("4"), standard=standard, rows=TOLERANCES)
    assert isinstance(gap, Gap)
    assert words in gap.reason


@pytest.mark.parametrize(
    ("size", "make", "standard"),
    [
        pytest.param("12", "6x7-FC", API, id="standard-without-it"),
        pytest.param("3", "6x24FC-FC", EN, id="size-without-it"),
    ],
)
def test_difference_of_diameters_may_be_a_gap_alone(size, make, standard):
    limits = diameter_limits(rope(size, make), standard=standard, rows=TOLERANCES)
    assert isinstance(limits.difference, Gap)
    assert limits.max_mm > limits.min_mm


def test_limits_printed_in_inches_are_given_in_millimetres():
    # MIL-W-83420 as quoted in FAA AC 43.13-1B Table 7-3: 1/8 in, 0.1250 to 0.1390 in.
    row = next(row for row in TABLE_ROWS if row.standard.startswith("MIL-W") and row.dia_max)
    limits = limits_from_table(rope_of(row), row)
    assert (row.dia_min, row.dia_max) == ("0.0312", "0.0372")
    assert (limits.min_mm, limits.max_mm) == (Decimal("0.79248"), Decimal("0.94488"))
    assert isinstance(limits.difference, Gap)


def test_limits_printed_in_millimetres_come_back_as_printed():
    limits = limits_from_table(rope_of(API_METRIC[0]), API_METRIC[0])
    assert (limits.min_mm, limits.max_mm) == (Decimal(6), Decimal("6.36"))


def test_table_without_limits_leaves_a_gap():
    row = next(row for row in TABLE_ROWS if not row.dia_max)
    gap = limits_from_table(rope_of(row), row)
    assert isinstance(gap, Gap)
    assert "prints no diameter limits" in gap.reason


def test_agreed_limits_name_their_document():
    limits = agreed_limits(
        min_mm=Decimal("1.5"), max_mm=Decimal("1.62"), document="maker's letter of agreement"
    )
    assert limits.contains(Decimal("1.55"))
    assert limits.source.confidence == "agreed with the maker"
    assert limits.highest.basis == "agreed with the maker in maker's letter of agreement"


@pytest.mark.parametrize(("low", "high"), [("0", "1"), ("2", "2"), ("2", "1")])
def test_agreed_limits_must_be_a_range(low, high):
    with pytest.raises(NoBasis, match="lowest first"):
        agreed_limits(min_mm=Decimal(low), max_mm=Decimal(high), document="letter")


@given(st.integers(min_value=20, max_value=1000), st.sampled_from([EN, WRTB]))
def test_every_size_from_two_millimetres_has_limits_around_it(tenths_mm, standard):
    size = trimmed(Decimal(tenths_mm) / 10)
    limits = diameter_limits(rope(size), standard=standard, rows=TOLERANCES)
    assert limits.min_mm == Decimal(size) < limits.max_mm <= Decimal(size) * Decimal("1.08")
