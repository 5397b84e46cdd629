from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.agreed_basis import Agreed, agreed_diameter
from certs.rules.derived import Source, plain
from certs.rules.finding import Verdict
from certs.rules.measured_diameter import (
    NO_PUBLISHED_LIMIT,
    Readings,
    check_readings,
    diameter_finding,
    difference_finding,
    whole_readings,
)
from certs.rules.tolerance import diameter_limits
from inventory.rules.refusal import Refusal
from tests.certs.rules.tables import API_METRIC, TOLERANCES, rope, rope_of, spoken

EN = "EN 12385-4"
NM = 10**6


def readings(*in_mm):
    return Readings(*(int(Decimal(one) * NM) for one in in_mm))


def limits(size, make="6x7-WSC", standard=EN):
    return diameter_limits(rope(size, make), standard=standard, rows=TOLERANCES)


# EN 12385-4 limits as printed by a rope supplier: 8 mm and more 0 to +5 %, difference 4 %; 6 to
# 8 mm 0 to +6 %, difference 5 %; 2 to 4 mm 0 to +8 %, difference 7 %.
@pytest.mark.parametrize(
    ("size", "read", "mean", "verdict"),
    [
        pytest.param("8", "8.1 8.2 8.3 8.2", "8.2", Verdict.AGREE, id="well within"),
        pytest.param("8", "8.4 8.4 8.4 8.4", "8.4", Verdict.AGREE, id="on the upper limit"),
        pytest.param("8", "8 8 8 8", "8", Verdict.AGREE, id="on the lower limit"),
        pytest.param("8", "8.4 8.4 8.4 8.41", "8.4025", Verdict.DISAGREE, id="above, unrounded"),
        pytest.param("8", "7.99 8 8 8", "7.9975", Verdict.DISAGREE, id="just below"),
        pytest.param("6", "6.36 6.36 6.36 6.36", "6.36", Verdict.AGREE, id="6 mm has 6 %"),
        pytest.param("3", "3.25 3.25 3.25 3.25", "3.25", Verdict.DISAGREE, id="3 mm has 8 %"),
    ],
)
def test_the_mean_of_four_readings_is_held_against_the_limits(size, read, mean, verdict):
    finding = diameter_finding(readings(*read.split()), limits(size))
    assert finding.verdict is verdict
    assert plain(finding.derived[0].stated) == mean
    assert f"Measured {mean} mm" in finding.text


@pytest.mark.parametrize(
    ("size", "read", "difference", "verdict"),
    [
        pytest.param("8", "8.32 8 8.1 8.1", "0.32", Verdict.AGREE, id="on the limit, 4 % of 8"),
        pytest.param("8", "8.33 8 8.1 8.1", "0.33", Verdict.DISAGREE, id="above it"),
        pytest.param("6", "6.3 6 6.1 6.1", "0.3", Verdict.AGREE, id="5 % of 6"),
        pytest.param("2", "2 2.14 2.1 2.1", "0.14", Verdict.AGREE, id="7 % of 2"),
        pytest.param("2", "2 2.15 2.1 2.1", "0.15", Verdict.DISAGREE, id="above 7 % of 2"),
    ],
)
def test_the_readings_may_differ_so_far(size, read, difference, verdict):
    finding = difference_finding(readings(*read.split()), limits(size))
    assert (finding.verdict, plain(finding.derived[0].stated)) == (verdict, difference)


# API Spec 9A 26th ed (2011), Table C.1: the diameter columns are limits of the measured diameter.
@pytest.mark.parametrize("row", API_METRIC, ids=spoken)
def test_printed_limits_of_api_9a_agree_and_a_tenth_beyond_does_not(row):
    allowed = diameter_limits(rope_of(row), standard="API Spec 9A", rows=TOLERANCES)
    for printed, beyond in ((row.dia_min, "-0.1"), (row.dia_max, "0.1")):
        # The printed figures are rounded to three; the exact limit may lie up to half a unit off.
        inside = readings(*[Decimal(printed) - Decimal(beyond)] * 4)
        outside = readings(*[Decimal(printed) + Decimal(beyond)] * 4)
        assert diameter_finding(inside, allowed).verdict is Verdict.AGREE
        assert diameter_finding(outside, allowed).verdict is Verdict.DISAGREE


def test_below_two_millimetres_an_agreed_value_is_needed():
    # No EN or ISO limit below 2 mm was found: a gap, and an outcome of its own.
    finding = diameter_finding(readings("1.5", "1.55", "1.5", "1.55"), limits("1.5"))
    assert finding.verdict is Verdict.CANNOT_SAY
    assert finding.rule == NO_PUBLISHED_LIMIT
    assert "Measured 1.525 mm. No published limit below 2 mm: agree" in finding.text


def test_an_agreed_limit_decides_below_two_millimetres():
    agreed = Agreed(
        Source("Agreement 7", confidence="agreed between the parties"),
        factor_k="0.359",
        diameter_minus_pct="2",
        diameter_plus_pct="10",
    )
    allowed = agreed_diameter(rope("1.5", "6x7-WSC"), agreed)
    assert diameter_finding(readings(*["1.65"] * 4), allowed).verdict is Verdict.AGREE
    assert diameter_finding(readings(*["1.66"] * 4), allowed).verdict is Verdict.DISAGREE
    assert difference_finding(readings(*["1.6"] * 4), allowed).verdict is Verdict.CANNOT_SAY


def test_no_difference_is_held_under_api():
    finding = difference_finding(readings(*["12.1"] * 4), limits("12", "6x7-FC", "API Spec 9A"))
    assert finding.verdict is Verdict.CANNOT_SAY
    assert "differ by 0 mm" in finding.text


@pytest.mark.parametrize("size", ["1.5", "8"])
def test_what_was_not_measured_is_not_judged(size):
    for judge in (diameter_finding, difference_finding):
        finding = judge(None, limits(size))
        assert finding.verdict is Verdict.CANNOT_SAY
        assert "The diameter was not measured." in finding.text


def test_a_reading_of_another_rope_is_refused():
    check_readings(readings("8", "8.1", "12", "4"), nominal_nm=8 * NM)
    with pytest.raises(Refusal, match="check the reading and its unit"):
        check_readings(readings("8", "8.1", "8.1", "3.9"), nominal_nm=8 * NM)


def test_fewer_than_four_readings_say_nothing_of_a_rope():
    four = dict.fromkeys(("place1_a_nm", "place1_b_nm", "place2_a_nm", "place2_b_nm"), 8 * NM)
    assert whole_readings(four) == readings("8", "8", "8", "8")
    assert whole_readings(dict.fromkeys(four)) is None
    with pytest.raises(Refusal, match="all four readings") as refused:
        whole_readings({**four, "place2_a_nm": None})
    assert refused.value.field == "place2_a_nm"


DIAMETERS = st.integers(7 * NM, 10 * NM)


@given(st.tuples(DIAMETERS, DIAMETERS, DIAMETERS, DIAMETERS))
def test_the_mean_lies_between_the_readings_and_their_order_does_not_matter(measured):
    read, turned = Readings(*measured), Readings(*reversed(measured))
    mean_nm = read.mean.unrounded * NM
    assert min(measured) <= mean_nm <= max(measured)
    assert (read.mean.unrounded, read.difference.unrounded) == (
        turned.mean.unrounded,
        turned.difference.unrounded,
    )
    assert diameter_finding(read, limits("8")).verdict is (
        Verdict.AGREE if 8 * NM <= mean_nm <= Decimal("8.4") * NM else Verdict.DISAGREE
    )
