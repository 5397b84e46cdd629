"""Forces calculated from wires: methods 2 and 3 of ISO 10425:2003 5.1.4, as read."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.derived import round_half_up
from certs.rules.wire_force import (
    calculated_after_unlaying,
    calculated_aggregate,
    calculated_before_laying,
    partial_loss,
    read_factors,
    sum_after_unlaying,
    sum_before_laying,
    total_loss,
)
from certs.rules.wire_strength import Wire
from inventory.rules.designation import parse_designation
from inventory.rules.refusal import Refusal
from tests.certs.rules.tables import factor, rope
from tests.certs.rules.wires import strand, wire


def loss(*values, source="type test 12", make=partial_loss):
    return make([Decimal(value) for value in values], source=source)


# GOST 7668-80 as printed for 6x36WS of 50.5 mm in 1370: 1006.85 mm2 of wires, 1,380,000 N for all
# wires together, 1,130,000 N for the rope. The 216 equal wires here have that area together.
GOST_WIRE = Wire("strands", 2_436_208, 6_386_000, represents=216)


def test_the_printed_sum_of_the_wires_of_a_large_rope():
    total = sum_before_laying([GOST_WIRE]).derived.stated
    assert total == pytest.approx(Decimal("1006.85") * 1370, rel=Decimal("0.0001"))
    assert round(total / 5000) * 5000 == 1_380_000


def test_the_printed_rope_to_sum_is_a_total_spinning_loss():
    force = calculated_before_laying(
        sum_before_laying([GOST_WIRE]), loss("0.82", source="GOST 7668-80", make=total_loss)
    )
    assert force.stated == pytest.approx(Decimal(1_130_000), rel=Decimal("0.005"))
    assert Decimal("0.81") < Decimal(1_130_000) / 1_380_000 < Decimal("0.82")


@pytest.mark.parametrize(
    ("make", "size", "grade", "force_kn"),
    [
        # API Spec 9A (26th ed 2011) Table C.1: 84.6 and 93.7 kN; K = C k by EN 12385-2 3.10.
        pytest.param("6x7-FC", "12", "1770", "84.6", id="12 mm 1770"),
        pytest.param("6x7-FC", "12", "1960", "93.7", id="12 mm 1960"),
    ],
)
def test_the_aggregate_times_the_spinning_loss_is_the_printed_force(make, size, grade, force_kn):
    row = factor("6x7", "FC")
    aggregate = calculated_aggregate(rope(size, make, grade), row)
    assert round_half_up(aggregate.unrounded * row.K / row.C) == Decimal(force_kn)
    assert aggregate.stated > Decimal(force_kn)
    assert "no breaking force" in aggregate.quantity


def test_the_aggregate_needs_a_number_for_grade_and_a_factor_for_area():
    row = factor("6x7", "FC")
    assert calculated_aggregate(parse_designation("1/2 in 6x7-FC IPS U sZ"), row) is None
    bare = type(row)(row.rope_class, row.core, row.K, None, row.W, row.source)
    assert calculated_aggregate(rope(), bare) is None


def test_each_wire_counts_as_often_as_it_stands_for_wires():
    wires = (wire(1900, represents=6), wire(1900, mm=1.2, layer="centre", represents=1))
    total = sum_after_unlaying(wires).derived
    assert total.unrounded * 1000 == wires[0].force_mn * 6 + wires[1].force_mn
    assert total.formula == "ΣF = S1 + S2"
    assert total.inputs[0].name == "1 wire of 0.8 mm, outer, standing for 6"


def test_the_lower_of_test_and_retest_goes_into_the_sum_and_is_told():
    tested = wire(1700, retest=1900)
    total = sum_after_unlaying([tested]).derived
    assert total.unrounded * 1000 == tested.force_mn
    assert "tested twice" in total.remarks[0]


def test_the_lowest_of_three_type_tests_counts_and_all_are_told():
    found = calculated_after_unlaying(
        sum_after_unlaying(strand(1900)), loss("0.95", "0.93", "0.94")
    )
    assert "lowest of 0.95, 0.93, 0.94" in found.inputs[1].name
    assert found.inputs[1].value == "0.93"
    assert found.inputs[1].source.name == "type test 12"


@pytest.mark.parametrize("make", [partial_loss, total_loss], ids=["partial", "total"])
@pytest.mark.parametrize(
    ("values", "source", "field"),
    [
        pytest.param((), "paper", "spinning_factors", id="none"),
        pytest.param(("0.9", "0.91"), "paper", "spinning_factors", id="two of three"),
        pytest.param(("0.9",) * 4, "paper", "spinning_factors", id="four"),
        pytest.param(("0",), "paper", "spinning_factors", id="nought"),
        pytest.param(("1.01",), "paper", "spinning_factors", id="a gain"),
        pytest.param(("NaN",), "paper", "spinning_factors", id="no number"),
        pytest.param(("0.12345678901",), "paper", "spinning_factors", id="too many figures"),
        pytest.param(("0.9",), " ", "spinning_source", id="no source"),
    ],
)
def test_factors_that_cannot_be(make, values, source, field):
    with pytest.raises(Refusal) as refused:
        loss(*values, source=source, make=make)
    assert refused.value.field == field


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("0.93; 0.94; 0.95", ("0.93", "0.94", "0.95")),
        ("0,93 0,94 0,95", ("0.93", "0.94", "0.95")),
        ("0.93, 0.94, 0.95", ("0.93", "0.94", "0.95")),
        (" 0,93 ", ("0.93",)),
        ("", ()),
    ],
)
def test_factors_as_they_are_typed(text, values):
    assert read_factors(text) == tuple(Decimal(value) for value in values)


def test_a_word_is_no_factor():
    with pytest.raises(Refusal, match="is no factor"):
        read_factors("about nine tenths")


@pytest.mark.parametrize(
    ("forces_mn", "stated"),
    [
        pytest.param((55_400, 55_099), 110, id="110.499 N"),
        pytest.param((55_400, 55_100), 111, id="110.5 N: half up"),
    ],
)
def test_a_sum_is_exact_and_stated_to_the_newton(forces_mn, stated):
    total = sum_after_unlaying([Wire("outer", 200_000, one) for one in forces_mn]).derived
    assert total.unrounded == Decimal(sum(forces_mn)) / 1000
    assert (total.stated, total.rounding.split(";")[0]) == (stated, "half up to the newton")


def test_a_sum_that_was_rounded_up_lifts_no_force():
    # 166.5 N are stated as 167; with 1 for the factor no more than 166 N are calculated.
    total = sum_after_unlaying([Wire("outer", 200_000, 55_500)] * 3)
    found = calculated_after_unlaying(total, loss("1"))
    assert (total.derived.stated, found.unrounded, found.stated) == (167, Decimal("166.5"), 166)
    assert (found.inputs[0].value, found.inputs[0].name.endswith(", exact")) == ("166.5", True)


def test_no_wires_have_no_sum():
    with pytest.raises(Refusal, match="Give the wires"):
        sum_after_unlaying([])


FORCES = st.lists(st.integers(400_000, 1_500_000), min_size=1, max_size=30)
FACTORS = st.decimals("0.5", "1", places=3)


@given(FORCES, FACTORS)
def test_the_calculated_force_never_exceeds_the_sum_nor_what_is_exact(forces, value):
    wires = [Wire("outer", 800_000, force_mn) for force_mn in forces]
    found = calculated_after_unlaying(sum_after_unlaying(wires), loss(value))
    assert found.stated <= found.unrounded <= Decimal(sum(forces)) / 1000
    assert found.unrounded == Decimal(sum(forces)) * value / 1000
    assert found.unrounded - found.stated < 1


@given(FORCES, FACTORS, FACTORS, FACTORS)
def test_more_type_tests_never_raise_the_force(forces, one, two, three):
    total = sum_before_laying([Wire("outer", 800_000, force_mn) for force_mn in forces])
    single = calculated_before_laying(total, loss(one, make=total_loss))
    several = calculated_before_laying(total, loss(one, two, three, make=total_loss))
    assert several.stated <= single.stated


@given(FORCES, st.data())
def test_a_sum_does_not_depend_on_how_wires_are_grouped(forces, data):
    split = data.draw(st.integers(0, len(forces)))
    layers = ["outer"] * split + ["inner"] * (len(forces) - split)
    wires = [Wire(layer, 800_000, force) for layer, force in zip(layers, forces, strict=True)]
    assert sum_after_unlaying(wires).derived.unrounded * 1000 == sum(forces)
