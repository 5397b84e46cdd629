"""A whole test of wires: methods 2 and 3 of ISO 10425:2003 5.1.4 kept apart, as read."""

from decimal import Decimal

import pytest

from certs.rules.derived import Derived
from certs.rules.finding import Verdict
from certs.rules.wire_force import PartialLoss, TotalLoss, partial_loss, total_loss
from certs.rules.wire_tests import (
    Method,
    Tables,
    judge_after_unlaying,
    judge_before_laying,
    loss_for,
)
from inventory.rules.designation import parse_designation
from inventory.rules.refusal import Refusal
from tests.certs.rules.tables import WIRE_BANDS, factor
from tests.certs.rules.wires import ROPE, strand, wire

# 12 mm 6x7-FC 1770: 84.6 kN (API Spec 9A, 26th ed 2011, Table C.1).
REQUIRED_N = 84_600
TABLES = Tables(WIRE_BANDS, ("1570", "1770", "1960"), factor("6x7", "FC"))
# Own geometry: wires of 1.33 mm; 36 of them with 1960 N/mm2 bear about 98 kN.
STRAND = strand(*[1960] * 6, mm=1.33, represents=6)


def after(wires=STRAND, *, factors=("0.93", "0.92", "0.94"), rope=ROPE, required_n=REQUIRED_N):
    loss = partial_loss([Decimal(one) for one in factors], source="type test") if factors else None
    return judge_after_unlaying(
        rope=rope, steel="non-alloy", wires=wires, loss=loss, required_n=required_n, tables=TABLES
    )


def before(wires=STRAND, *, factors=("0.88",), rope=ROPE):
    loss = total_loss([Decimal(one) for one in factors], source="type test") if factors else None
    return judge_before_laying(
        rope=rope, steel="non-alloy", wires=wires, loss=loss, required_n=REQUIRED_N, tables=TABLES
    )


def finding(verdict, topic):
    return next(one for one in verdict.findings if one.topic == topic)


def test_a_sample_that_meets_its_force_by_method_2():
    found = after()
    assert found.sum_n == 36 * STRAND[0].force_mn // 1000
    assert found.calculated_n == found.sum_n * 92 // 100
    assert found.outcome == "meets"
    assert (found.grade.outcome, found.grade.supported) == ("supports", "1960")
    assert [one.topic for one in found.findings] == [
        "Calculated breaking force",
        "Wires tested",
        "Wire strengths",
        "Grade that the wires support",
        "Failing wires by EN 12385-1",
        "Wires the sum stands for",
        "Sum and nominal metal area",
    ]


@pytest.mark.parametrize(("short_n", "outcome"), [(0, "meets"), (1, "falls_short")])
def test_the_limit_belongs_to_those_that_meet(short_n, outcome):
    reached = after().calculated_n
    found = after(required_n=reached + short_n)
    assert found.outcome == outcome
    expected = Verdict.AGREE if outcome == "meets" else Verdict.DISAGREE
    assert finding(found, "Calculated breaking force").verdict is expected


def test_falling_short_asks_for_a_break_and_changes_no_certified_force():
    text = finding(after(required_n=200_000), "Calculated breaking force").text
    assert "break a sample (method 1)" in text
    assert "not changed by a calculation" in text


def test_without_a_factor_a_sum_is_no_breaking_force():
    found = after(factors=())
    assert (found.outcome, found.calculated_n) == ("cannot_say", None)
    assert found.derivations == (found.total,)
    assert "a sum is no breaking force" in finding(found, "Calculated breaking force").text


def test_the_methods_are_told_apart_by_their_words():
    assert "method 2" in after().calculated.quantity
    assert "partial" in after().calculated.basis
    assert "method 3" in before().calculated.quantity
    assert "total" in before().calculated.basis
    assert (Method.AFTER_UNLAYING.number, Method.BEFORE_LAYING.number) == (2, 3)


def test_a_factor_belongs_to_its_method():
    assert isinstance(loss_for(Method.AFTER_UNLAYING, [Decimal("0.9")], source="p"), PartialLoss)
    assert isinstance(loss_for(Method.BEFORE_LAYING, [Decimal("0.9")], source="p"), TotalLoss)
    assert loss_for(Method.BEFORE_LAYING, [], source=" ") is None
    with pytest.raises(Refusal, match="A source is named"):
        loss_for(Method.BEFORE_LAYING, [], source="a paper")


def test_before_laying_nothing_is_said_of_a_sample_and_all_wires_are_asked_for():
    topics = {one.topic for one in before().findings}
    assert "Wires tested" not in topics
    assert before().grade.outcome == "supports"
    assert before(STRAND[:5]).grade.outcome == "cannot_say"


def test_wires_that_stand_for_more_than_the_rope_has_are_refused():
    with pytest.raises(Refusal, match="48 wires, but 6x7-FC has at most 42"):
        after(strand(*[1960] * 6, mm=1.33, represents=8))
    with pytest.raises(Refusal, match="20 wires, but 1x19 has at most 19"):
        before([wire(represents=20)], rope=parse_designation("4 1x19 1570 U Z"))


def test_a_core_that_hides_its_wires_sets_no_limit():
    rope = parse_designation("12 6x36WS-IWRC 1770 B sZ")
    assert after(strand(1900, represents=2000), rope=rope).sum_n > 0


@pytest.mark.parametrize(
    ("make", "wires", "words"),
    [
        pytest.param("6x7-FC", STRAND, "stands for 36 wires.", id="all that bear"),
        pytest.param("6x7-FC", STRAND[:5], "stands for 30 wires; the", id="five of six"),
        pytest.param("6x7-FC", strand(1960, mm=1.33), "stands for 1 wire; the", id="one alone"),
        pytest.param("6x7-FC", STRAND[:5], "makes it too low", id="some left out"),
        pytest.param("35x7-IWRC", STRAND, "stands for 36 wires; the", id="of many strands"),
        pytest.param("6x26FS-FC", STRAND, "does not tell how many", id="not told"),
    ],
)
def test_the_wires_that_a_sum_stands_for(make, wires, words):
    rope = parse_designation(f"12 {make} 1770 B sZ")
    assert words in finding(after(wires, rope=rope), "Wires the sum stands for").text


def test_the_sum_is_set_beside_the_nominal_metal_area_and_never_called_a_breaking_force():
    found = finding(after(), "Sum and nominal metal area")
    # C d² Rr / 1000 = 0.369 x 144 x 1770 / 1000.
    assert found.derived[0].stated == Decimal("94.050")
    assert found.rule.endswith("never Fmin")
    assert found.verdict is Verdict.AGREE
    low = finding(after(strand(*[1400] * 6, mm=1.33, represents=6)), "Sum and nominal metal area")
    assert low.verdict is Verdict.CANNOT_SAY


def test_no_factor_of_the_rope_no_comparison_with_its_area():
    found = judge_after_unlaying(
        rope=ROPE, steel="", wires=STRAND, loss=None, required_n=1, tables=Tables(WIRE_BANDS)
    )
    assert "Sum and nominal metal area" not in {one.topic for one in found.findings}


def test_a_file_of_another_kind_is_refused():
    with pytest.raises(Refusal, match="more than a sample has"):
        after([wire()] * 1001)


def test_every_number_comes_with_what_it_rests_on():
    found = after()
    derived = [one for finding_ in found.findings for one in finding_.derived]
    assert all(isinstance(one, Derived) and one.steps() for one in derived)
    assert found.derivations[0].rests_on == (found.total,)
