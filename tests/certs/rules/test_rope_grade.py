from decimal import Decimal

import pytest

from certs.rules.derived import Gap
from certs.rules.rope_grade import (
    ForceEvidence,
    WireEvidence,
    WireStrength,
    grade_information,
    grade_supported,
    wire_band,
)
from inventory.rules.refusal import Refusal
from tests.certs.rules.tables import GRADE_NAMES, WIRE_BANDS


# EN 10264-1:2002 Table 1; which row a border belongs to is our own decision, the narrower one.
@pytest.mark.parametrize(
    ("steel", "diameter", "grade", "upper"),
    [
        ("non-alloy", "0.2", "1770", "2160"),
        ("non-alloy", "0.49", "1770", "2160"),
        ("non-alloy", "0.5", "1770", "2120"),
        ("non-alloy", "1.0", "1960", "2280"),
        ("non-alloy", "1.5", "1960", "2250"),
        ("non-alloy", "2.0", "1570", "1830"),
        ("non-alloy", "3.5", "1570", "1820"),
        ("stainless", "0.3", "1570", "1805.5"),
    ],
)
def test_band_begins_at_the_grade(steel, diameter, grade, upper):
    band = wire_band(steel=steel, wire_diameter_mm=Decimal(diameter), grade=grade, rows=WIRE_BANDS)
    assert (band.lower_n_mm2, band.upper_n_mm2) == (Decimal(grade), Decimal(upper))
    assert band.source.name == "EN 10264-1:2002 Table 1"


@pytest.mark.parametrize(
    ("steel", "diameter"),
    [("non-alloy", "0.19"), ("non-alloy", "8.0"), ("titanium", "1.0")],
)
def test_wire_without_row_is_a_gap(steel, diameter):
    gap = wire_band(steel=steel, wire_diameter_mm=Decimal(diameter), grade="1770", rows=WIRE_BANDS)
    assert isinstance(gap, Gap)
    assert "enter it" in gap.reason


def test_us_grade_has_no_band():
    with pytest.raises(Refusal, match="EIP is a name"):
        wire_band(steel="non-alloy", wire_diameter_mm=Decimal(1), grade="EIP", rows=WIRE_BANDS)


def wires(*strengths, required=1):
    tested = tuple(WireStrength(Decimal("0.8"), Decimal(strength)) for strength in strengths)
    return WireEvidence("non-alloy", tested, required)


# ISO 10425:2003 (API Spec 9A) Annex B: at most 5 % of the wires, rounded up, outside.
# Wires of 0.8 mm in grade 1770 may be 1770 to 2120 N/mm2 (EN 10264-1:2002 Table 1).
@pytest.mark.parametrize(
    ("evidence", "expected"),
    [
        pytest.param(wires(*[1900] * 7), True, id="all-inside"),
        pytest.param(wires(1770, 2120), True, id="limits-included"),
        pytest.param(wires(1769, *[1900] * 19), True, id="one-of-twenty-outside"),
        pytest.param(wires(1769, 2121, *[1900] * 18), False, id="two-of-twenty-outside"),
        pytest.param(wires(1769, 2121, *[1900] * 19), True, id="two-of-twenty-one-outside"),
        pytest.param(wires(1769), False, id="one-of-one-outside"),
        pytest.param(wires(*[1900] * 7, required=8), False, id="too-few-wires"),
    ],
)
def test_wires_support_the_grade(evidence, expected):
    finding = grade_supported(grade="1770", rows=WIRE_BANDS, wires=evidence)
    assert finding.is_supported is expected


def test_wire_outside_is_named_with_its_band():
    finding = grade_supported(grade="1770", rows=WIRE_BANDS, wires=wires(1700, 1900))
    assert finding.reasons[0].startswith("1 of 2 wires outside, 1 allowed")
    assert "1700 N/mm² is outside 1770 to 2120 N/mm²" in finding.reasons[1]


def test_wire_without_band_counts_as_outside():
    thin = WireEvidence("non-alloy", (WireStrength(Decimal("0.1"), Decimal(1900)),), 1)
    finding = grade_supported(grade="1770", rows=WIRE_BANDS, wires=thin)
    assert not finding.is_supported
    assert "No band is held" in finding.reasons[1]


@pytest.mark.parametrize("grade", ["1770", "IPS"])
@pytest.mark.parametrize(
    ("measured_n", "expected"), [(84_600, True), (90_000, True), (84_599, False)]
)
def test_measured_force_decides_either_way(grade, measured_n, expected):
    force = ForceEvidence(measured_n=measured_n, required_n=84_600)
    finding = grade_supported(grade=grade, rows=WIRE_BANDS, force=force, wires=wires(1900))
    assert finding.is_supported is expected
    assert f"{measured_n} N measured, 84600 N required" in finding.reasons[0]


@pytest.mark.parametrize(
    ("grade", "evidence", "words"),
    [
        pytest.param("1770", None, "No wire strength", id="nothing-on-record"),
        pytest.param("1770", wires(), "No wire strength", id="empty-list-of-wires"),
        pytest.param("IPS", wires(1900), "only a measured breaking force", id="us-grade"),
    ],
)
def test_no_evidence_supports_nothing(grade, evidence, words):
    finding = grade_supported(grade=grade, rows=WIRE_BANDS, wires=evidence)
    assert not finding.is_supported
    assert words in finding.reasons[0]


def test_us_grade_is_told_with_every_source_that_disagrees():
    lines = grade_information("EIP", GRADE_NAMES)
    assert [line.split(";")[0] for line in lines] == [
        "EIP / EIPS: 1960, stated equivalence",
        "EIPS: 1860, stated equivalence",
        "EIPS: 1770-1960, stated equivalence",
        "EIP 6x7 FC: 1750-1927, effective grade F/(K d2), by size",
    ]
    assert "disagrees with 1960" in lines[1]
    assert "[one source]" in lines[1]


def test_unknown_grade_name_has_no_information():
    assert grade_information("QQQ", GRADE_NAMES) == ()
