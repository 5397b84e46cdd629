"""Tensile strength of a wire: force over the nominal cross-section."""

import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.wire_strength import Wire, strength_n_mm2, tensile_strength
from inventory.rules.refusal import Refusal
from tests.certs.rules.wires import MM, wire

# Forces that give 600 to 4500 N/mm2 on a wire of 2 mm.
FORCES = st.integers(2_000_000, 14_000_000)


def test_the_strength_of_a_round_wire_by_hand():
    # pi/4 mm2 and 1000 pi N: 4000 N/mm2; with whole newtons 3142 N on 1 mm is 4000.518.
    found = tensile_strength(Wire("outer", MM, 3_142_000))
    assert found.stated == Decimal("4000.5")
    assert found.unrounded == pytest.approx(Decimal("4000.518"), abs=Decimal("0.001"))
    assert "R = 3142 / (π" in found.as_json()["worked"]


@given(FORCES)
def test_it_is_the_quotient_that_floating_numbers_give_too(force_mn):
    found = strength_n_mm2(force_mn=force_mn, diameter_nm=2 * MM)
    assert float(found) == pytest.approx(force_mn / 1000 / (math.pi / 4 * 4), rel=1e-12)


@given(FORCES, st.integers(1, 100))
def test_more_force_is_more_strength_and_more_metal_is_less(force_mn, more):
    plain = strength_n_mm2(force_mn=force_mn, diameter_nm=2 * MM)
    assert strength_n_mm2(force_mn=force_mn + more, diameter_nm=2 * MM) > plain
    assert strength_n_mm2(force_mn=force_mn, diameter_nm=2 * MM + more) < plain


@given(FORCES)
def test_the_stated_strength_is_never_above_the_unrounded_one(force_mn):
    found = tensile_strength(Wire("outer", 2 * MM, force_mn))
    assert 0 <= found.unrounded - found.stated < Decimal("0.1")


def test_a_retest_takes_the_place_of_the_first_and_the_sum_takes_the_lower():
    tested = wire(1700, retest=1900)
    assert tested.judged_force_mn == tested.retest_force_mn
    assert tested.counted_force_mn == tested.force_mn
    assert "the first bore" in tensile_strength(tested).inputs[0].name


@pytest.mark.parametrize(
    ("layer", "is_judged", "is_sampled"),
    [
        pytest.param("outer strand 1", True, True, id="of a strand"),
        pytest.param("Centre", False, False, id="centre, not tested by Annex B"),
        pytest.param("filler wires", False, False, id="filler, not tested by Annex B"),
        pytest.param("core strand", True, False, id="core: judged, in no strand's place"),
    ],
)
def test_what_a_wire_counts_for_by_its_layer(layer, is_judged, is_sampled):
    tested = wire(layer=layer)
    assert (tested.is_judged, tested.is_sampled) == (is_judged, is_sampled)


def test_a_thin_wire_is_told_with_every_digit_of_its_force():
    # 0.2 mm: 0.0314159 mm2, so 55.4 N are 1763.4 N/mm2; half a newton more are 15.9 more.
    found = tensile_strength(Wire("outer", MM // 5, 55_400, retest_force_mn=55_407))
    assert found.inputs[0].value == "55.407"
    assert found.inputs[0].name.endswith("the first bore 55.4 N")
    assert tensile_strength(Wire("outer", MM // 5, 55_400)).stated == Decimal("1763.4")
    assert found.remarks == ()


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        pytest.param({"layer": "  "}, "in which layer", id="no layer"),
        pytest.param({"layer": "x" * 41}, "too long", id="endless layer"),
        pytest.param({"diameter_nm": 0}, "above nought", id="no size"),
        pytest.param({"represents": 0}, "above nought", id="stands for none"),
        pytest.param({"force_mn": 0}, "check the units", id="no force"),
        pytest.param({"force_mn": 1_500}, "check the units", id="newtons for thousandths"),
        pytest.param({"force_mn": 1_900_000_000}, "check the units", id="N typed as kN"),
        pytest.param({"retest_force_mn": 2_000}, "check the units", id="kN typed as N"),
    ],
)
def test_what_is_no_wire_is_refused(facts, words):
    plain = {"layer": "outer", "diameter_nm": MM, "force_mn": 1_500_000, "represents": 1}
    with pytest.raises(Refusal, match=words) as refused:
        Wire(**(plain | facts))
    assert refused.value.field == "wires"
