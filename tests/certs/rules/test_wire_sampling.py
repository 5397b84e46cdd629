"""Sampling by ISO 10425:2003 (API Spec 9A) Annex B, as read: one strand of each strand layer, two
if it has more than eight; fillers and centres not tested; of a spiral rope a quarter of each group
of wires, at least three; not for compacted ropes."""

import pytest

from certs.rules.finding import Verdict
from certs.rules.wire_sampling import (
    least_wires,
    most_wires,
    sampling_finding,
    sampling_plan,
    strand_layers,
    strands_to_test,
    wires_to_test,
)
from inventory.rules.designation import parse_designation
from inventory.rules.refusal import Refusal
from tests.certs.rules.wires import ROPE, strand


def rope(make):
    lay = "Z" if make.startswith("1x") else "sZ"
    return parse_designation(f"12 {make} 1770 U {lay}")


@pytest.mark.parametrize(
    ("make", "strands", "per_strand"),
    [
        pytest.param("6x7-FC", 1, 6, id="six strands of one round six"),
        pytest.param("8x19S-IWRC", 1, 18, id="eight strands are not more than eight"),
        pytest.param("6x25F-FC", 1, 18, id="six of 25 are fillers"),
        pytest.param("6x21F-FC", 1, 15, id="five of 21 are fillers"),
        pytest.param("6x24FC-FC", 1, 24, id="fibre in the strand, no centre wire"),
        pytest.param("6x36WS-IWRC", 1, 35, id="36 wires, one the centre"),
        pytest.param("18x7-WSC", 3, 6, id="two of twelve outer strands, one of six inner"),
        pytest.param("17x7-WSC", 3, 6, id="two of eleven outer strands, one of six inner"),
    ],
)
def test_strands_and_wires_to_test(make, strands, per_strand):
    found = rope(make)
    assert strands_to_test(found) == strands
    assert wires_to_test(found.construction) == per_strand


@pytest.mark.parametrize(
    ("strands", "layers"), [(6, (6,)), (9, (9,)), (18, (12, 6)), (34, None), (11, None)]
)
def test_layers_are_never_guessed(strands, layers):
    assert strand_layers(strands) == layers


def test_nine_strands_in_a_layer_give_two():
    assert strands_to_test(rope("9x19S-IWRC")) == 2


@pytest.mark.parametrize("make", ["35x7-WSC", "6x26FS-FC", "6x22F-FC"])
def test_a_construction_that_does_not_tell_is_a_gap(make):
    plan = sampling_plan(rope(make), strand(*[1900] * 40))
    assert plan.required is None
    assert not plan.is_whole
    assert "does not tell" in sampling_finding(plan).text


@pytest.mark.parametrize(
    ("tested", "is_whole"), [pytest.param(6, True, id="all"), pytest.param(5, False, id="one less")]
)
def test_a_strand_is_tested_whole(tested, is_whole):
    plan = sampling_plan(ROPE, strand(*[1900] * tested))
    assert plan.is_whole is is_whole
    expected = Verdict.AGREE if is_whole else Verdict.CANNOT_SAY
    assert sampling_finding(plan).verdict is expected


@pytest.mark.parametrize("layer", ["centre", "core strand", "Fillers"])
def test_centres_fillers_and_core_take_no_strands_place(layer):
    wires = (*strand(*[1900] * 5), *strand(1900, layer=layer))
    assert not sampling_plan(ROPE, wires).is_whole


@pytest.mark.parametrize(
    ("outer", "inner", "is_whole"),
    [
        # 1x19: twelve round six round one. A quarter of twelve is three; of six, two: so three.
        pytest.param(3, 3, True, id="three of each"),
        pytest.param(2, 3, False, id="two of twelve"),
        pytest.param(3, 2, False, id="two of six"),
    ],
)
def test_a_spiral_rope_is_tested_group_by_group(outer, inner, is_whole):
    wires = (
        *strand(*[1900] * (outer - 1), layer="outer"),
        *strand(1900, layer="outer", represents=12 - outer + 1),
        *strand(*[1900] * (inner - 1), layer="inner"),
        *strand(1900, layer="inner", represents=6 - inner + 1),
    )
    assert sampling_plan(rope("1x19"), wires).is_whole is is_whole


def test_a_quarter_of_a_large_group_is_rounded_up():
    # 1x127: 42 outer wires, a quarter is 10.5.
    wires = strand(1900, represents=42)
    assert "11 of outer" in sampling_plan(rope("1x127"), wires).asked


def test_a_group_that_nobody_tested_is_missed():
    plan = sampling_plan(rope("1x19"), strand(*[1900] * 3, represents=4))
    assert plan.missing == ("No wire tested stands for 6 wires of the rope.",)


def test_one_wire_is_told_as_one():
    text = sampling_finding(sampling_plan(rope("6x7-FC"), strand(1900))).text
    assert text.startswith("1 wire tested. Asked for: 1 strand of 6 wires")
    assert sampling_plan(rope("6x7-FC"), strand(*[1900] * 5)).missing == ("1 wire was not tested.",)


def test_of_no_wires_nothing_is_planned_for_a_spiral_rope():
    plan = sampling_plan(rope("1x19"), strand(1900, layer="centre"))
    assert plan.required is None


def test_a_spiral_rope_that_does_not_tell_its_wires_is_planned_by_its_groups():
    assert sampling_plan(rope("1x22F"), strand(*[1900] * 3)).required == 3


def test_compacted_ropes_are_refused():
    with pytest.raises(Refusal, match="compacted") as refused:
        sampling_plan(rope("6xK36WS-IWRC"), strand(1900))
    assert refused.value.field == "sample"


@pytest.mark.parametrize(
    ("make", "least", "most"),
    [
        # Geometry of equal wires: 7x7 has 49 wires, 7x19 has 133, 1x19 has 19.
        pytest.param("6x7-WSC", 36, 49, id="7x7"),
        pytest.param("6x19M-WSC", 108, 133, id="7x19"),
        pytest.param("1x19", 18, 19, id="1x19"),
        pytest.param("6x7-FC", 36, 42, id="fibre core"),
        pytest.param("6x36WS-IWRC", 210, None, id="the core hides its wires"),
    ],
)
def test_wires_that_a_rope_can_have(make, least, most):
    assert (least_wires(rope(make)), most_wires(rope(make))) == (least, most)
