import pytest

from certs.rules.rope_match import (
    NoBasis,
    check_row,
    fitting_class,
    fitting_factors,
    fitting_rows,
    metric_grade,
    nearby,
)
from tests.certs.rules.tables import API_METRIC, FACTORS, TABLE_ROWS, factor, rope, rope_of, spoken


@pytest.mark.parametrize(
    ("make", "row", "field", "words"),
    [
        pytest.param("6x7-FC", ("6x7", "WSC"), "core", "has core FC", id="fibre-rope-wire-factor"),
        pytest.param("6x7-IWRC", ("6x7", "FC"), "core", "for core FC", id="wire-rope-fibre-factor"),
        pytest.param(
            "1x19", ("6x7", "FC"), "construction", "class 1x19", id="strand-with-rope-factor"
        ),
        pytest.param(
            "6x19-FC", ("6x19", "FC"), "construction", "6x19M", id="ambiguous-construction"
        ),
        pytest.param(
            "6xK36WS-IWRC", ("6x36", "IWRC"), "construction", "compacted", id="compacted-strand"
        ),
        pytest.param("6x36WS-IWRC(K)", ("6x36", "IWRC"), "core", "IWRC(K)", id="compacted-core"),
    ],
)
def test_factor_of_another_rope_is_refused(make, row, field, words):
    with pytest.raises(NoBasis, match=words.replace("(", r"\(").replace(")", r"\)")) as refusal:
        fitting_class(rope(make=make), factor(*row))
    assert refusal.value.field == field


def test_natural_fibre_core_takes_the_fibre_core_factor():
    assert fitting_class(rope(make="6x36WS-NFC"), factor("6x36", "FC")).name == "6x36"


def test_strand_has_no_core_to_compare():
    assert fitting_class(rope(make="1x19"), factor("1x19", "-")).name == "1x19"


@pytest.mark.parametrize(
    ("other", "field"),
    [
        pytest.param(rope("11"), "diameter", id="other-size"),
        pytest.param(rope("12", unit="in"), "diameter", id="other-unit"),
        pytest.param(rope(make="6x7-WSC"), "construction", id="other-core"),
        pytest.param(rope(make="8x7-FC"), "construction", id="other-construction"),
        pytest.param(rope(grade="1960"), "grade", id="other-grade"),
        pytest.param(rope(grade="IPS"), "grade", id="us-grade-for-metric-row"),
    ],
)
def test_row_of_another_rope_is_refused(other, field):
    row = next(row for row in API_METRIC if (row.diameter, row.grade) == ("12", "1770"))
    with pytest.raises(NoBasis) as refusal:
        check_row(other, row)
    assert refusal.value.field == field


@pytest.mark.parametrize("row", API_METRIC, ids=spoken)
def test_row_of_the_rope_itself_fits(row):
    assert check_row(rope_of(row), row) == ()


@pytest.mark.parametrize(
    ("make", "printed"),
    [("6x7-WSC", "7x7"), ("6x19M-WSC", "7x19")],
)
def test_core_counted_as_a_strand_is_the_same_rope(make, printed):
    row = next(row for row in TABLE_ROWS if row.construction == printed)
    remarks = check_row(rope(row.diameter, make, "1770", "in"), row)
    assert len(remarks) == 1
    assert "no tensile grade" in remarks[0]
    assert row.grade in remarks[0]


def test_inner_rope_of_seven_by_seven_is_a_wire_rope_core():
    row = next(row for row in TABLE_ROWS if row.core == "7x7 IWRC")
    assert check_row(rope(row.diameter, "6x25F-IWRC", row.grade), row) == ()


def test_fitting_rows_are_the_rows_of_this_rope():
    rows = fitting_rows(rope("12"), TABLE_ROWS)
    assert [(row.standard, row.mbf) for row in rows] == [("API Spec 9A", "84.6")]


def test_fitting_factors_are_the_factors_of_this_rope():
    assert [row.K for row in fitting_factors(rope(make="6x25F-IWRC"), FACTORS)] == [
        factor("6x19", "IWRC").K
    ]
    assert fitting_factors(rope(make="6x19-IWRC"), FACTORS) == ()


def test_grade_name_is_no_number():
    with pytest.raises(NoBasis, match="IPS is a name") as refusal:
        metric_grade(rope(grade="IPS"))
    assert refusal.value.field == "grade"


def test_near_a_missing_core_are_the_other_cores_of_the_class():
    lines = nearby(rope(make="8x7-WSC"), FACTORS, TABLE_ROWS)
    assert lines == ("factor held: 8x7-FC, K = 0.291", "factor held: 8x7-IWRC, K = 0.359")


def test_near_an_unknown_construction_are_the_classes_of_as_many_strands():
    lines = nearby(rope(make="18x19S-WSC"), FACTORS, TABLE_ROWS)
    assert lines == (
        "no class of the factor table is held for 18x19S",
        "class held: 18x7 (18x7, 17x7)",
    )


def test_near_a_size_without_row_are_the_tables_with_their_sizes():
    lines = nearby(rope("13", grade="IPS"), FACTORS, TABLE_ROWS)
    assert "table held: API Spec 9A (26th ed 2011) Table C.1, grade 1770, 6 to 38 mm" in lines
    sheet = "table held: US SPR 198-50 (via Machinery's Handbook 31) Table 1 p.2714"
    assert f"{sheet}, grade PS, 1/4 to 1-1/2 in" in lines


def test_near_a_rope_of_one_size_is_that_size_alone():
    row = next(row for row in TABLE_ROWS if row.construction == "3x7")
    lines = nearby(rope("1/16", "3x7", unit="in"), FACTORS, (row,))
    assert lines[-1].endswith("comp A carbon, 1/32 in")
