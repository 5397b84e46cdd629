"""The grade that wires support. Bands: EN 10264-1:2002 Table 1. At most 5 % of the wires, rounded
up, outside; a wire that fails two tests counts once: API Spec 9A (ISO 10425:2003) Annex B."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.finding import Verdict
from certs.rules.wire_bands import (
    GradeOutcome,
    Sample,
    allowed_outside,
    count_outside,
    steel_of_wires,
)
from certs.rules.wire_grade import highest_grade, judge_grade
from certs.rules.wire_strength import Wire
from tests.certs.rules.tables import WIRE_BANDS
from tests.certs.rules.wires import strand, wire

GRADES = ("1370", "1570", "1770", "1960", "2160")
SUPPORTS, REFUTES, CANNOT_SAY = GradeOutcome


def sample(wires, *, steel="non-alloy", required=6, is_whole=True, may_be_outside=True):
    return Sample(steel, tuple(wires), required, is_whole, may_be_outside)


def judge(wires, *, marked="1770", rows=WIRE_BANDS, **facts):
    return judge_grade(marked=marked, sample=sample(wires, **facts), rows=rows, grades=GRADES)


@pytest.mark.parametrize(
    ("wires", "outcome"),
    [
        # 0.8 mm in 1770: 1770 to 2120 N/mm2.
        pytest.param(strand(*[1900] * 6), SUPPORTS, id="all inside"),
        pytest.param(strand(1771, 2119, *[1900] * 4), SUPPORTS, id="just inside the limits"),
        pytest.param(strand(1760, *[1900] * 5), SUPPORTS, id="one low of six, one allowed"),
        pytest.param(strand(2130, *[1900] * 5), SUPPORTS, id="one high of six, one allowed"),
        pytest.param(strand(1760, 1760, *[1900] * 4), REFUTES, id="two low of six"),
        pytest.param(strand(1760, 2130, *[1900] * 4), REFUTES, id="one low and one high of six"),
        pytest.param(strand(1760, *[1900] * 19), SUPPORTS, id="one of twenty"),
        pytest.param(strand(1760, 1760, *[1900] * 18), REFUTES, id="two of twenty"),
        pytest.param(strand(1760, 1760, *[1900] * 19), SUPPORTS, id="two of twenty-one"),
        pytest.param((wire(1700, retest=1900), *strand(1760, *[1900] * 4)), SUPPORTS,
                     id="a retest clears its wire"),
        pytest.param((wire(1700, retest=1700), *strand(*[1900] * 5)), SUPPORTS,
                     id="failing test and retest counts once"),
        pytest.param((wire(1700, retest=1700), *strand(1760, *[1900] * 4)), REFUTES,
                     id="and with another wire it is two"),
        pytest.param((*strand(*[1900] * 6), *strand(*[1000] * 3, layer="centre")), SUPPORTS,
                     id="centres are not judged"),
        pytest.param((*strand(*[1900] * 6), *strand(*[1000] * 3, layer="core")), REFUTES,
                     id="core wires that are listed are"),
    ],
)  # fmt: skip
def test_the_marked_grade(wires, outcome):
    assert judge(wires).outcome is outcome


def test_too_few_wires_prove_nothing():
    assert judge(strand(*[1900] * 5), is_whole=False).outcome is CANNOT_SAY


def test_too_few_wires_refute_only_what_the_rest_could_not_mend():
    # Of 21 wires asked for two may be outside, though of the three tested only one.
    few = strand(1700, 1700, 1900)
    assert judge(few, required=21, is_whole=False).outcome is CANNOT_SAY
    assert judge(few, required=20, is_whole=False).outcome is REFUTES


def test_one_wire_that_is_outside_alone_supports_nothing():
    assert judge(strand(1700), required=1).outcome is CANNOT_SAY


def test_before_laying_none_may_lie_outside():
    one_low = strand(1760, *[1900] * 19)
    assert judge(one_low).outcome is SUPPORTS
    assert judge(one_low, may_be_outside=False).outcome is CANNOT_SAY


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        pytest.param({"marked": "IPS"}, "is a name", id="a US grade"),
        pytest.param({"steel": ""}, "do not tell of which steel", id="steel not known"),
        pytest.param({"rows": ()}, "enter it from your copy", id="no table"),
    ],
)
def test_what_has_no_band_says_nothing(facts, words):
    found = judge(strand(*[1700] * 6), **facts)
    assert found.outcome is CANNOT_SAY
    assert words in found.findings[0].text


def test_a_band_from_memory_never_refutes():
    remembered = [
        replace(row, source=replace(row.source, confidence="memory")) for row in WIRE_BANDS
    ]
    found = judge(strand(*[1000] * 6), rows=remembered)
    assert found.outcome is CANNOT_SAY
    assert found.findings[0].verdict is Verdict.CANNOT_SAY


@pytest.mark.parametrize(
    ("strengths", "highest"),
    [
        # Upper limits of 0.8 mm: the grade plus 350 N/mm2.
        pytest.param([2000] * 6, "1960", id="within 1960 and 1770"),
        pytest.param([1800] * 6, "1770", id="below 1960"),
        pytest.param([1560] * 6, "1370", id="below 1570"),
        pytest.param([1300] * 6, "", id="below all"),
    ],
)
def test_the_highest_grade_that_the_wires_meet(strengths, highest):
    found = judge(strand(*strengths))
    assert found.supported == highest
    assert (found.findings[1].verdict is Verdict.AGREE) is (highest in ("1770", "1960"))


def test_stainless_wires_have_15_percent_above_the_grade():
    # EN 10264-1:2002 Table 1: 1570 to 1805.5 N/mm2.
    inside, outside = strand(*[1800] * 6), strand(*[1810] * 6)
    assert judge(inside, marked="1570", steel="stainless").outcome is SUPPORTS
    assert judge(outside, marked="1570", steel="stainless").outcome is REFUTES


@pytest.mark.parametrize(
    ("names", "steel"),
    [
        pytest.param(["C78D", "C82D"], "non-alloy", id="rod for rope wire"),
        pytest.param(["1.4401", "X5CrNiMo17-12-2"], "stainless", id="by number and name"),
        pytest.param(["316L"], "stainless", id="by the American number"),
        pytest.param(["C78D", "1.4401"], "", id="two steels in one rope"),
        pytest.param(["Alloy Z"], "", id="a name nobody knows"),
        pytest.param([], "", id="no heat"),
    ],
)
def test_the_steel_of_the_wires(names, steel):
    assert steel_of_wires(names) == steel


# API Spec 9A (ISO 10425:2003) Annex B: 5 %, rounded up.
@pytest.mark.parametrize(("wires", "allowed"), [(0, 0), (1, 1), (20, 1), (21, 2), (41, 3)])
def test_five_percent_rounded_up(wires, allowed):
    assert allowed_outside(wires) == allowed


def test_a_gap_for_the_failing_wires_of_en_12385_is_shown_as_a_gap():
    found = judge(strand(*[1900] * 6)).findings[-1]
    assert found.verdict is Verdict.CANNOT_SAY
    assert "enter it from your copy of the standard" in found.text
    assert "it is not used here" in found.text


def test_the_bands_that_counted_are_kept_with_the_finding():
    given_ = judge((*strand(*[1900] * 6), *strand(1900, mm=1.2))).findings[0].given
    assert [(one.symbol, one.name, one.value) for one in given_[1:]] == [
        ("lower", "wires of 0.8 mm", "1770"),
        ("upper", "wires of 0.8 mm", "2120"),
        ("lower", "wires of 1.2 mm", "1770"),
        ("upper", "wires of 1.2 mm", "2090"),
    ]


def test_a_wire_outside_is_named_with_its_side_and_its_tests():
    text = judge((wire(1700, retest=1690), *strand(2200, *[1900] * 4))).findings[0].text
    assert "in test and retest: below 1770 to 2120 N/mm²" in text
    assert "above 1770 to 2120 N/mm²" in text


@pytest.mark.parametrize(
    ("force_mn", "outcome"),
    [
        # 0.2 mm: 0.0314159 mm2, so 1770 N/mm2 are 55.606 N. Whole newtons would make 56 of both.
        pytest.param(55_610, SUPPORTS, id="55.61 N is 1770.1"),
        pytest.param(55_600, REFUTES, id="55.60 N is 1769.8"),
    ],
)
def test_a_thin_wire_is_held_against_its_limit_by_the_force_as_it_was_read(force_mn, outcome):
    found = judge([Wire("outer", 200_000, force_mn)] * 6)
    assert (found.outcome, found.findings[0].warnings) == (outcome, ())


def test_lowest_and_highest_wire_are_derived():
    both = judge(strand(1800, 1900, 2000, 1900, 1900, 1900)).findings[0].derived
    assert [one.quantity for one in both] == [
        "lowest strength of a wire",
        "highest strength of a wire",
    ]
    assert len(judge(strand(*[1900] * 6)).findings[0].derived) == 1


STRENGTHS = st.lists(st.integers(1400, 2400), min_size=1, max_size=45)


@given(STRENGTHS)
def test_no_grade_is_supported_that_its_own_count_does_not_carry(strengths):
    taken = sample(strand(*strengths))
    grade = highest_grade(GRADES, sample=taken, rows=WIRE_BANDS)
    if grade:
        count = count_outside(grade, sample=taken, rows=WIRE_BANDS)
        assert len(count.outside) <= allowed_outside(len(strengths))


@given(STRENGTHS, st.integers(1400, 1700))
def test_a_wire_made_weaker_never_turns_a_refuted_grade_into_a_supported_one(strengths, weak):
    before = judge(strand(*strengths)).outcome
    after = judge(strand(weak, *strengths[1:])).outcome
    was_high = strengths[0] > 2120
    assert not (before is REFUTES and after is SUPPORTS and not was_high)


@given(STRENGTHS)
def test_the_order_of_the_wires_does_not_matter(strengths):
    backward = judge(strand(*reversed(strengths)))
    forward = judge(strand(*strengths))
    assert (forward.outcome, forward.supported) == (backward.outcome, backward.supported)


def test_no_wires_say_nothing():
    found = judge(())
    assert found.outcome is CANNOT_SAY
    assert found.findings[0].derived == ()
