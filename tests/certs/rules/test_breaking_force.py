from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.breaking_force import (
    certified_breaking_force,
    declared,
    derive_from_factor,
    derive_from_table,
    in_kilonewtons,
    whole_newtons,
)
from certs.rules.derived import plain
from certs.rules.rope_match import NoBasis
from tests.certs.rules.tables import (
    API_INCH,
    API_METRIC,
    TABLE_ROWS,
    factor,
    rope,
    rope_of,
    spoken,
)

SIZES = st.decimals(min_value="1", max_value="60", places=1).map(str)
FORCES_N = st.integers(min_value=1, max_value=5_000_000)


# API Spec 9A 26th edition (2011), Table C.1: every metric row, to the printed figure.
@pytest.mark.parametrize("row", API_METRIC, ids=spoken)
def test_factor_gives_the_force_printed_in_api_9a(row):
    force = derive_from_factor(rope_of(row), factor("6x7", "FC"))
    assert (plain(force.stated), force.unit) == (row.mbf, "kN")


# The same table and US SPR 198-50, MIL-W-83420, MIL-C-18375: inch rows come back as printed.
@pytest.mark.parametrize("row", API_INCH, ids=spoken)
def test_inch_rows_of_api_9a_come_back_as_printed(row):
    force = derive_from_table(rope_of(row), row)
    assert (plain(force.stated), force.unit) == (row.mbf, "short ton")


def test_every_held_row_comes_back_as_printed():
    for row in TABLE_ROWS:
        force = derive_from_table(rope_of(row), row)
        assert (plain(force.stated), force.unit) == (row.mbf, row.mbf_unit), spoken(row)


# Feyrer, Wire Ropes, Table 1.9 (K 0.388 strand core, 0.359 wire rope core, 0.332 fibre core):
# one trade name, 7x7 of 2 mm in grade 1770, by the three factors in use.
@pytest.mark.parametrize(("core", "expected"), [("WSC", "2.75"), ("IWRC", "2.54"), ("FC", "2.35")])
def test_seven_by_seven_of_two_millimetres(core, expected):
    force = derive_from_factor(rope("2", f"6x7-{core}"), factor("6x7", core))
    assert plain(force.stated) == expected


# EN 13414-1, worked example of its formula: 20 mm 6x36-IWRC 1770, Fmin 252 kN.
# API Spec 9A Table C.1: 12 mm 6x7-FC, 84.6 kN in 1770 and 93.7 kN in 1960.
@pytest.mark.parametrize(
    ("size", "make", "grade", "row", "unrounded", "stated"),
    [
        ("20", "6x36WS-IWRC", "1770", ("6x36", "IWRC"), "252.048", "252"),
        ("12", "6x7-FC", "1770", ("6x7", "FC"), "84.62016", "84.6"),
        ("12", "6x7-FC", "1960", ("6x7", "FC"), "93.70368", "93.7"),
    ],
)
def test_published_worked_examples(size, make, grade, row, unrounded, stated):
    force = derive_from_factor(rope(size, make, grade), factor(*row))
    assert force.unrounded == Decimal(unrounded)
    assert plain(force.stated) == stated


def test_derivation_names_inputs_basis_and_source():
    force = derive_from_factor(rope(), factor("6x7", "FC"))
    assert [(row.symbol, row.value) for row in force.inputs] == [
        ("K", "0.332"),
        ("d", "12"),
        ("Rr", "1770"),
        ("class", "6x7"),
    ]
    assert force.basis == "factor K = 0.332 of class 6x7 with core FC"
    assert "Feyrer" in force.source.name
    assert (
        "Fmin = 0.332 × 12² × 1770 / 1000 = 84.62016 kN → 84.6 kN "
        "(three significant figures, half up)" in force.steps()
    )


def test_note_of_the_factor_is_carried_along():
    force = derive_from_factor(rope("2", "6x7-WSC"), factor("6x7", "WSC"))
    assert any("7x7 price lists" in line for line in force.steps())


@pytest.mark.parametrize(
    ("make", "row", "expected"),
    [
        pytest.param("6x7-FC", ("6x7", "FC"), False, id="factor-from-two-sources"),
        pytest.param("1x19", ("1x19", "-"), True, id="factor-from-memory"),
        pytest.param("6x41WS-IWRC", ("6x36", "IWRC"), True, id="class-from-memory"),
    ],
)
def test_memory_is_carried_through_as_provisional(make, row, expected):
    assert derive_from_factor(rope(make=make), factor(*row)).is_provisional is expected


def test_us_grade_is_never_put_into_the_formula():
    with pytest.raises(NoBasis, match="EIP is a name"):
        derive_from_factor(rope(grade="EIP"), factor("6x7", "FC"))


@given(SIZES)
def test_twice_the_diameter_is_four_times_the_force(size):
    once = derive_from_factor(rope(size), factor("6x7", "FC"))
    twice = derive_from_factor(rope(str(Decimal(size) * 2)), factor("6x7", "FC"))
    assert twice.unrounded == once.unrounded * 4


# NIST SP 811 (2008) Appendix B: 1 lbf = 4.448 221 615 260 5 N, so 10.3 short tons = 91.633... kN.
@pytest.mark.parametrize(
    ("standard", "size", "grade", "expected_n"),
    [
        pytest.param("API Spec 9A", "1/2", "IPS", 91633, id="short-tons"),
        pytest.param("MIL-W-83420", "1/8", "comp A carbon", 8896, id="pounds"),
        pytest.param("GOST 3077-80", "35.0", "1960", 748500, id="newtons"),
        pytest.param("API Spec 9A", "12", "1770", 84600, id="kilonewtons"),
    ],
)
def test_printed_force_in_newtons(standard, size, grade, expected_n):
    row = next(
        row
        for row in TABLE_ROWS
        if (row.standard, row.diameter, row.grade) == (standard, size, grade)
    )
    force = derive_from_table(rope_of(row), row)
    assert whole_newtons(force) == expected_n
    assert in_kilonewtons(force).stated * 1000 == expected_n


def test_conversion_shows_the_printed_force_first():
    row = next(row for row in API_INCH if (row.diameter, row.grade) == ("1/2", "IPS"))
    force = in_kilonewtons(derive_from_table(rope_of(row), row))
    assert force.rests_on[0].text == "10.3 short ton"
    assert "Fmin = 10.3 × 8896.443230521 / 1000 = 91.63336… kN" in force.steps()[-2]


def test_declared_force_stays_as_given():
    force = declared(force_n=84_620, document="mill document M-17")
    assert force.text == "84.62 kN"
    assert force.basis == "declared by the maker in mill document M-17"


def test_declared_force_must_be_above_nought():
    with pytest.raises(NoBasis, match="above nought"):
        declared(force_n=0, document="mill document M-17")


BASIS = derive_from_factor(rope(), factor("6x7", "FC"))


@pytest.mark.parametrize(
    ("declared_n", "derated_n", "stated", "governed_by"),
    [
        pytest.param(None, None, "84.6", "basis", id="basis-alone"),
        pytest.param(90_000, None, "84.6", "basis", id="maker-declares-more"),
        pytest.param(84_600, None, "84.6", "basis", id="maker-declares-the-same"),
        pytest.param(84_599, None, "84.599", "declared", id="maker-declares-a-newton-less"),
        pytest.param(None, 79_341, "79.341", "derated", id="failed-test"),
        pytest.param(80_000, 79_341, "79.341", "derated", id="failed-test-below-declared"),
        pytest.param(78_000, 79_341, "78", "declared", id="declared-below-failed-test"),
    ],
)
def test_lowest_force_is_certified_and_named(declared_n, derated_n, stated, governed_by):
    force = certified_breaking_force(
        basis=BASIS, declared_n=declared_n, derated_n=derated_n, derating_test="B-0004"
    )
    assert (plain(force.stated), force.governed_by) == (stated, governed_by)
    assert force.rests_on == (BASIS,)


def test_derating_names_its_test():
    force = certified_breaking_force(basis=BASIS, derated_n=79_341, derating_test="B-0004")
    assert force.basis == "de-rated by breaking test B-0004"
    assert "Fcert = min(84.6, 79.341) = 79.341 kN → 79.341 kN (none: as given)" in force.steps()


@pytest.mark.parametrize("force_n", [0, -1])
def test_no_force_below_nought_is_certified(force_n):
    with pytest.raises(NoBasis, match="above nought"):
        certified_breaking_force(basis=BASIS, derated_n=force_n)


@given(declared_n=st.none() | FORCES_N, derated_n=st.none() | FORCES_N)
def test_certified_force_is_never_above_any_that_is_known(declared_n, derated_n):
    force = certified_breaking_force(basis=BASIS, declared_n=declared_n, derated_n=derated_n)
    known = [n for n in (whole_newtons(BASIS), declared_n, derated_n) if n is not None]
    assert whole_newtons(force) == min(known)
