from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.breaking_force import (
    certified_breaking_force,
    derive_from_factor,
    derive_from_table,
)
from certs.rules.derived import Source, plain, round_down
from certs.rules.sling_legs import LegArrangement, leg_factor
from certs.rules.termination import Efficiency, TerminationKind
from certs.rules.working_load import (
    Coefficient,
    MarkedTooHigh,
    Rating,
    cap_grade,
    check_marked,
    published_load,
    working_load,
)
from inventory.rules.refusal import Refusal
from tests.certs.rules.tables import (
    API_INCH,
    LEG_FACTORS,
    PUBLISHED_LOADS,
    factor,
    rope,
    rope_of,
)

FERRULES = frozenset({TerminationKind.FERRULE_SECURED_EYE})
FERRULE = Efficiency(
    TerminationKind.FERRULE_SECURED_EYE,
    "ferrule-secured eye",
    Decimal("0.90"),
    "0.90",
    Source("EN 13411-3", "2022", "two-sources"),
    "end A",
)


def steel_core(size, grade="1770"):
    return derive_from_factor(rope(size, "6x36WS-IWRC", grade), factor("6x36", "IWRC"))


def printed(size, legs, *, make="6x36WS-IWRC", grade="1770", ends=FERRULES):
    return published_load(rope(size, make, grade), ends=ends, legs=legs, rows=PUBLISHED_LOADS)


def legs_of(name, angle="0"):
    return leg_factor(LegArrangement(name), angle_deg=Decimal(angle), rows=LEG_FACTORS)


# EN 13414-1:2003, example of its formula: d 20 mm, 6x36 IWRC 1770, KT 0.9, Zp 5: 4.625 t, where
# the table of the standard prints 4.60 t.
def test_worked_example_of_the_standard():
    load = working_load(steel_core("20"), end=FERRULE)
    assert load.unrounded.quantize(Decimal("0.001")) == Decimal("4.624")
    assert load.text == "4.62 t"
    assert abs(load.unrounded - Decimal("4.60")) <= Decimal("4.60") * Decimal("0.025")


# EN 13414-1:2003 Table 4 (ferrule-secured eyes, steel core, grade 1770): every row within 2.5 %.
@pytest.mark.parametrize(
    "row", PUBLISHED_LOADS, ids=lambda row: f"{row.diameter_mm} {row.configuration}"
)
def test_published_table_is_met_within_its_rounding(row):
    angle = "60" if "45-60" in row.configuration else "0"
    for name in row.legs:
        legs = legs_of(name, angle)
        load = working_load(steel_core(str(row.diameter_mm)), end=FERRULE, legs=legs)
        assert legs.factor == row.leg_factor
        assert abs(load.unrounded - row.wll_t) <= row.wll_t * Decimal("0.025")
        assert printed(str(row.diameter_mm), legs) == row


# EN 13414-1:2003 Table 4 is for ferrule-secured eyes, steel core, grade 1770.
@pytest.mark.parametrize(
    ("size", "make", "grade", "ends"),
    [
        pytest.param("11", "6x36WS-IWRC", "1770", FERRULES, id="size-not-printed"),
        pytest.param("10", "6x36WS-FC", "1770", FERRULES, id="fibre-core"),
        pytest.param("10", "1x19", "1770", FERRULES, id="strand-without-core"),
        pytest.param("10", "6x36WS-IWRC", "1570", FERRULES, id="lower-grade"),
        pytest.param("10", "6x36WS-IWRC", "EIP", FERRULES, id="us-grade"),
        pytest.param(
            "10", "6x36WS-IWRC", "1770", FERRULES | {TerminationKind.SOCKET}, id="other-end"
        ),
        pytest.param("10", "6x36WS-IWRC", "1770", frozenset(), id="no-end"),
    ],
)
def test_sling_the_table_does_not_speak_of_has_no_published_row(size, make, grade, ends):
    assert printed(size, legs_of("one_leg"), make=make, grade=grade, ends=ends) is None


def test_higher_grade_is_read_from_the_table_as_1770():
    assert printed("10", legs_of("one_leg"), grade="1960").wll_t == Decimal("1.15")


def test_working_load_is_worked_in_the_open():
    load = working_load(steel_core("20"), end=FERRULE, legs=legs_of("two_legs", "30"))
    steps = load.steps()
    assert "WLL = 252 × 0.90 × 1.4 / (5 × 9.81) = 6.473394… t → 6.47 t" in steps[-2]
    assert any("weakest end: ferrule-secured eye at end A" in line for line in steps)
    assert steps[0] == "minimum breaking force: Fmin = K d² Rr / 1000"


def test_inch_table_force_is_converted_on_the_way():
    row = next(row for row in API_INCH if (row.diameter, row.grade) == ("1/2", "IPS"))
    load = working_load(derive_from_table(rope_of(row), row), end=FERRULE)
    # 10.3 short tons are 9.344 t (NIST SP 811), of which 0.9 / 5 is 1.68 t.
    assert load.text == "1.68 t"


def test_own_coefficient_needs_its_source():
    hoist = Coefficient(Decimal(8), Source("agreed specification", "", "agreed"))
    load = working_load(steel_core("20"), end=FERRULE, coefficient=hoist)
    assert load.unrounded * 8 == pytest.approx(
        working_load(steel_core("20"), end=FERRULE).unrounded * 5
    )
    assert load.source.name == "agreed specification"


def test_coefficient_below_one_is_refused():
    with pytest.raises(Refusal, match="below one"):
        working_load(
            steel_core("20"), end=FERRULE, coefficient=Coefficient(Decimal("0.9"), Source("none"))
        )


# EN 13414-1:2003 guidance note, 5.3 (read): a sling is rated on no more than grade 1770.
def test_higher_grade_is_rated_as_1770():
    certified = certified_breaking_force(basis=steel_core("20", "1960"))
    capped = cap_grade(certified, grade="1960")
    assert (certified.text, capped.text) == ("279 kN", "251 kN")
    assert capped.basis == "grade 1960 rated as 1770"
    assert "Frat = min(279, 279 × 1770 / 1960)" in capped.steps()[-3]
    assert capped.rests_on == (certified,)


@pytest.mark.parametrize("grade", ["1570", "1770"])
def test_grade_up_to_1770_is_rated_as_it_is(grade):
    force = steel_core("20", grade)
    assert cap_grade(force, grade=grade) == force


def test_cap_falls_on_the_basis_and_not_on_a_lower_declared_force():
    certified = certified_breaking_force(basis=steel_core("20", "1960"), declared_n=250_000)
    assert cap_grade(certified, grade="1960").text == "250 kN"


def test_force_alone_is_its_own_basis_for_the_cap():
    assert cap_grade(steel_core("20", "1960"), grade="1960").text == "251 kN"


def test_us_grade_is_not_rated_by_the_european_formula():
    with pytest.raises(Refusal, match="EIP is a US name"):
        cap_grade(steel_core("20"), grade="EIP")


def rating(diameter):
    legs = legs_of("one_leg")
    return Rating(
        formula=working_load(steel_core(diameter), end=FERRULE, legs=legs),
        published=printed(diameter, legs),
    )


# EN 13414-1:2003 Table 4: 10 mm 1.15 t, 18 mm 3.7 t, for one leg; 20 mm is not held.
@pytest.mark.parametrize(
    ("diameter", "formula", "published", "governing", "governed_by"),
    [
        pytest.param("10", "1.15", "1.15", "1.15", "formula", id="equal"),
        pytest.param("18", "3.74", "3.7", "3.7", "published", id="table-below-formula"),
        pytest.param("22", "5.59", "5.65", "5.59", "formula", id="formula-below-table"),
    ],
)
def test_lower_of_formula_and_table_governs(diameter, formula, published, governing, governed_by):
    found = rating(diameter)
    assert plain(found.formula.stated) == formula
    assert found.published.wll_t == Decimal(published)
    assert (plain(found.governing_t), found.governed_by) == (governing, governed_by)


def test_without_table_the_formula_governs():
    found = rating("20")
    assert found.published is None
    assert (plain(found.governing_t), found.governed_by) == ("4.62", "formula")


def test_load_may_be_marked_up_to_the_governing_value():
    assert check_marked(Decimal("3.7"), rating("18")) is None


def test_load_above_the_governing_value_may_not_be_marked():
    with pytest.raises(MarkedTooHigh, match=r"the published value allows 3\.7 t"):
        check_marked(Decimal("3.71"), rating("18"))


@pytest.mark.parametrize("marked", ["0", "-1"])
def test_load_to_mark_must_be_above_nought(marked):
    with pytest.raises(Refusal, match="above nought"):
        check_marked(Decimal(marked), rating("18"))


@given(st.integers(min_value=2, max_value=60))
def test_stated_load_never_exceeds_the_formula(diameter):
    load = working_load(steel_core(str(diameter)), end=FERRULE)
    assert load.stated == round_down(load.unrounded) <= load.unrounded


@given(
    diameter=st.integers(min_value=2, max_value=60),
    more=st.integers(min_value=0, max_value=20),
    grade=st.sampled_from(["1570", "1770", "1960"]),
)
def test_a_thicker_rope_never_carries_less(diameter, more, grade):
    def load(size):
        rated = cap_grade(steel_core(str(size), grade), grade=grade)
        return working_load(rated, end=FERRULE)

    assert load(diameter).stated <= load(diameter + more).stated


@given(
    diameter=st.integers(min_value=2, max_value=60),
    k=st.decimals("0.2", "0.6", places=3),
    more=st.decimals("0", "0.2", places=3),
)
def test_a_higher_factor_never_carries_less(diameter, k, more):
    def load(value):
        row = replace(factor("6x36", "IWRC"), K=value)
        force = derive_from_factor(rope(str(diameter), "6x36WS-IWRC", "1770"), row)
        return working_load(force, end=FERRULE).stated

    assert load(k) <= load(k + more)
