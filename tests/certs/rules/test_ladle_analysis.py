"""Limits as the table of ladle analyses holds them, with the standard named in each row."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.check_sample import check_sample_limits
from certs.rules.content import Standing, content_of, standing
from certs.rules.derived import Gap, plain
from certs.rules.finding import Verdict
from certs.rules.ladle_analysis import HeatAnalysis, analysis_findings
from certs.rules.pitting import pitting_resistance
from certs.rules.steel_limits import is_stainless, rows_for, steels_named
from tests.certs.rules.tables import STEEL_LIMITS

# EN 10016-4:1994, C56D2 (1.1220): every limit was read.
GOOD_C56D2 = {
    "C": "0.560",
    "Si": "0.20",
    "Mn": "0.60",
    "P": "0.012",
    "S": "0.010",
    "Cr": "0.05",
    "Ni": "0.04",
    "Mo": "0.01",
    "Cu": "0.08",
    "N": "0.005",
    "Al": "0.005",
    "Sn": "0.010",
}
# Typical, within EN 10088-3:2014 for 1.4401 as held; only Mo was read there.
GOOD_1_4401 = {
    "C": "0.042",
    "Si": "0.48",
    "Mn": "1.31",
    "P": "0.028",
    "S": "0.003",
    "Cr": "16.9",
    "Ni": "10.6",
    "Mo": "2.08",
    "N": "0.041",
}


def found(steel, analysis):
    return analysis_findings(HeatAnalysis("4711", steel, analysis), STEEL_LIMITS)


def steel(name):
    (row,) = rows_for(name, STEEL_LIMITS)
    return row


def limit(steel_name, name):
    return next(one for one in steel(steel_name).limits if one.name == name)


def test_an_analysis_within_every_limit_that_was_read_agrees():
    (finding,) = found("C56D2", GOOD_C56D2)
    assert finding.verdict is Verdict.AGREE
    assert not finding.is_provisional
    assert "EN 10016-4:1994" in finding.rule


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param({"C": "0.59"}, "C 0.59 % (limit 0.54-0.58)", id="too much carbon"),
        pytest.param({"C": "0.53"}, "C 0.53 % (limit 0.54-0.58)", id="too little carbon"),
        pytest.param({"P": "0.021"}, "P 0.021 % (limit <=0.020)", id="too much phosphorus"),
        pytest.param({"Al": "0.02"}, "Al 0.02 % (limit <=0.01)", id="aluminium of the last column"),
        pytest.param(
            {"Cr": "0.10", "Ni": "0.10", "Cu": "0.11"},
            "Cr+Ni+Cu 0.10 + 0.10 + 0.11 % (limit <=0.30)",
            id="each within, the sum of three outside",
        ),
        pytest.param(
            {"Cu": "0.14", "Sn": "0.020"},
            "Cu+Sn 0.14 + 0.020 % (limit <=0.15)",
            id="copper and tin together",
        ),
    ],
)
def test_a_limit_that_was_read_may_disagree(changed, said):
    (finding,) = found("C56D2", {**GOOD_C56D2, **changed})
    assert finding.verdict is Verdict.DISAGREE
    assert f"Outside: {said}" in finding.text


@pytest.mark.parametrize(
    "changed",
    [
        pytest.param({"Cr": "0.10", "Ni": "0.10", "Cu": "0.10"}, id="the sum on its limit"),
        pytest.param({"P": "0.020", "S": "0.025"}, id="on the limit"),
        pytest.param({"Al": "<0.01"}, id="less than the limit itself"),
    ],
)
def test_a_limit_belongs_to_what_it_allows(changed):
    (finding,) = found("C56D2", {**GOOD_C56D2, **changed})
    assert finding.verdict is Verdict.AGREE


def test_a_remembered_limit_warns_and_never_rejects():
    # EN ISO 16120-2, C82D: the whole row is from memory.
    (finding,) = found("C82D", {"C": "0.90", "Si": "0.2", "Mn": "0.6"})
    assert finding.verdict is Verdict.CANNOT_SAY
    assert "Outside: C 0.90 %" in finding.text
    assert finding.is_provisional
    assert any("from memory and reject nothing" in warning for warning in finding.warnings)


def test_read_and_remembered_limits_of_one_steel_are_two_findings():
    read, remembered = found("1.4401", {**GOOD_1_4401, "Mo": "1.90", "Cr": "15.0"})
    assert (read.verdict, remembered.verdict) == (Verdict.DISAGREE, Verdict.CANNOT_SAY)
    assert "Mo 1.90" in read.text
    assert "Cr" not in read.text
    assert "Cr 15.0" in remembered.text


# Of 1.4301 chromium and sulphur were read, of 1.4307 carbon, chromium and nickel, of 1.4401
# molybdenum; of 1.4404, the ASTM A492 rows and the rod steels but C15D nothing.
@pytest.mark.parametrize(
    ("name", "read"),
    [
        ("1.4301", {"Cr", "S"}),
        ("1.4307", {"C", "Cr", "Ni"}),
        ("1.4401", {"Mo"}),
        ("1.4404", set()),
        ("316 (rope wire)", set()),
        ("C82D", set()),
        ("C15D", {"C", "Si", "Mn", "P", "S", "Cr", "Ni", "Mo", "Cu", "Al"}),
    ],
)
def test_the_table_says_which_limits_were_read(name, read):
    known = {one.name for one in steel(name).limits if not one.source.is_provisional}
    assert known == read


@pytest.mark.parametrize(
    ("name", "held"),
    [
        pytest.param("1.4401", "1.4401 X5CrNiMo17-12-2", id="number"),
        pytest.param("X5CrNiMo17-12-2", "1.4401 X5CrNiMo17-12-2", id="name"),
        pytest.param("x5crnimo17-12-2 1.4401", "1.4401 X5CrNiMo17-12-2", id="both, other case"),
        pytest.param("316", "316 (rope wire)", id="US number"),
    ],
)
def test_a_steel_is_found_by_its_names(name, held):
    assert steel(name).steel == held


@pytest.mark.parametrize("name", ["C78D", "1.44", "AISI 316", "", "1.4401 X5CrNi18-10"])
def test_no_steel_is_taken_for_another(name):
    assert rows_for(name, STEEL_LIMITS) == ()


# EN 10088-1 calls a steel stainless from 10.5 % chromium on (from memory).
@pytest.mark.parametrize(
    ("name", "analysis", "expected"),
    [
        pytest.param("1.4301", {}, True, id="by its number"),
        pytest.param("C82D", {"Cr": "0.11"}, False, id="a rod steel"),
        pytest.param("C78D", {"Cr": "0.05"}, False, id="unheld, little chromium"),
        pytest.param("1.4462", {"Cr": "22.1"}, True, id="unheld, much chromium"),
        pytest.param("C78D", {}, None, id="unheld, no chromium stated"),
    ],
)
def test_a_steel_is_stainless_or_not_or_unknown(name, analysis, expected):
    assert is_stainless(name, analysis, STEEL_LIMITS) is expected


def test_limits_that_nobody_read_are_a_gap():
    (finding,) = found("C78D", {"C": "0.78"})
    assert finding.verdict is Verdict.CANNOT_SAY
    assert "Limits of C78D: no value held: enter it from your copy of the standard" in finding.text


def test_no_analysis_cannot_be_compared():
    (finding,) = found("C56D2", {})
    assert finding.verdict is Verdict.CANNOT_SAY
    assert "no ladle analysis" in finding.text


def test_what_the_mill_did_not_state_is_named():
    (finding,) = found("C56D2", {"C": "0.56"})
    assert finding.verdict is Verdict.CANNOT_SAY
    assert "Not stated in the analysis: Si, Mn, P" in finding.text


def test_a_dual_certified_heat_must_meet_both_steels():
    # EN 10088-3, from memory for carbon: 1.4401 allows 0.07, 1.4404 0.030.
    assert steels_named("1.4401/1.4404") == ("1.4401", "1.4404")
    texts = [one.text for one in found("1.4401/1.4404", GOOD_1_4401)]
    assert len(texts) == 3
    assert any("Outside: C 0.042 % (limit <=0.030)" in text for text in texts)
    assert sum("Outside" in text for text in texts) == 1


def test_fewer_decimals_than_the_limit_warn_and_do_not_fail():
    # A differing number of decimals is a warning, no failure (BSSA on EN 10088).
    read, _ = found("1.4401", {**GOOD_1_4401, "Mo": "2.1"})
    assert read.verdict is Verdict.AGREE
    assert any("Mo is printed as 2.1 %, with fewer decimals" in one for one in read.warnings)


def test_a_half_read_row_says_what_is_known_of_it():
    read, _ = found("1.4301", {**GOOD_1_4401, "Cr": "18.1", "Ni": "8.5"})
    assert any("Cr + tolerance read" in warning for warning in read.warnings)


@pytest.mark.parametrize(
    ("figure", "expected"),
    [
        pytest.param("<0.010", Standing.WITHIN, id="surely below"),
        pytest.param("<0.030", Standing.WITHIN, id="below the limit"),
        pytest.param("<0.05", Standing.UNSURE, id="may be above"),
        pytest.param("0.031", Standing.OUTSIDE, id="above"),
    ],
)
def test_less_than_is_not_a_figure(figure, expected):
    # S at most 0.030 for bars, rods and wire (BSSA on EN 10088-3), read.
    assert standing(limit("1.4301", "S"), {"S": figure}) is expected


def test_less_than_the_lowest_is_outside():
    # Mo 2.00 to 2.50 of 1.4401, EN 10088-3, read.
    molybdenum = limit("1.4401", "Mo")
    assert standing(molybdenum, {"Mo": "<2.00"}) is Standing.OUTSIDE
    assert standing(molybdenum, {"Mo": "<2.10"}) is Standing.UNSURE


@given(st.decimals("0.001", "1", places=3), st.decimals("0", "1", places=3))
def test_more_of_an_element_never_gets_back_under_its_limit(content, more):
    carbon = limit("1.4307", "C")
    before, after = ({"C": f"{figure:f}"} for figure in (content, content + more))
    if standing(carbon, before) is Standing.OUTSIDE:
        assert standing(carbon, after) is Standing.OUTSIDE


@given(st.decimals("0", "99", places=3))
def test_less_than_spans_all_below(content):
    span = content_of(f"<{content:f}")
    assert (span.lowest, span.highest, span.is_open) == (0, content, True)


def test_pitting_resistance_of_the_worked_example():
    # PREN = Cr + 3.3 Mo + 16 N for Cr 16.5, Mo 2.1, N 0.03: 16.5 + 6.93 + 0.48 by hand. The public
    # page that prints 24.00 is wrong.
    number = pitting_resistance({"Cr": "16.5", "Mo": "2.1", "N": "0.03"})
    assert number.unrounded == Decimal("23.91")
    assert number.unrounded != Decimal("24.00")
    assert plain(number.stated) == "23.9"


# Typical values of the IMOA list: 304 about 19, 316 about 24; to within the two points that the
# number cannot tell apart. The compositions are mid-range ones of our own.
@pytest.mark.parametrize(
    ("analysis", "typical"),
    [
        pytest.param({"Cr": "18.1", "Mo": "0.0", "N": "0.05"}, 19, id="304"),
        pytest.param({"Cr": "16.9", "Mo": "2.08", "N": "0.04"}, 24, id="316"),
    ],
)
def test_pitting_resistance_is_near_typical_values(analysis, typical):
    assert abs(pitting_resistance(analysis).unrounded - typical) <= 2


@pytest.mark.parametrize("nitrogen", [{}, {"N": "<0.05"}], ids=["absent", "less than"])
def test_pitting_resistance_is_not_guessed(nitrogen):
    number = pitting_resistance({"Cr": "16.5", "Mo": "2.1", **nitrogen})
    assert isinstance(number, Gap)
    assert "N" in number.reason


def test_pitting_resistance_stands_with_the_analysis_of_a_stainless_heat():
    read, remembered = found("1.4401", GOOD_1_4401)
    assert "PREN 24.4, for information" in read.text
    assert [one.symbol for one in read.derived] == ["PREN"]
    assert remembered.derived == ()
    (rod,) = found("C56D2", GOOD_C56D2)
    assert rod.derived == ()


def test_check_sample_of_the_worked_example():
    # EN 10088-2 Table 5 (BSSA): 1.4301 cast with Cr 18.1, tolerance 0.20: 17.90 to 18.30.
    (tolerance,) = steel("1.4301").tolerances
    assert not tolerance.source.is_provisional
    lowest, highest = check_sample_limits(tolerance, "18.1")
    assert (plain(lowest.stated), plain(highest.stated)) == ("17.90", "18.30")
    assert check_sample_limits(tolerance, "<18.1") is None
    read, _ = found("1.4301", {"Cr": "18.1", "S": "0.003"})
    assert "A check sample may hold 17.90 % to 18.30 % Cr." in read.text
