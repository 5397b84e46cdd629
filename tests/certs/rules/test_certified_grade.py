"""What may be stated of a grade. Figures: Fmin of 12 mm 6x7-WSC 1770 is 98.9 kN (K 0.388).

K as in Feyrer, Wire Ropes, Table 1.9 after EN 12385-4.
"""

import pytest

from certs.rules.certified_grade import (
    RULE,
    GradeStanding,
    MeasuredForce,
    WireWord,
    certified_grade,
)
from certs.rules.derived import Source
from certs.rules.rope_grade import ForceEvidence, GradeName

REQUIRED_N = 98_900
GOOD = WireWord("WT-1", is_supported=True, text="0 of 6 wires lie outside")
BAD = WireWord("WT-2", is_supported=False, text="3 of 6 wires lie outside")


def measured(force_n: int) -> MeasuredForce:
    return MeasuredForce("BT-1", ForceEvidence(measured_n=force_n, required_n=REQUIRED_N))


@pytest.mark.parametrize(
    ("facts", "stated", "standing"),
    [
        pytest.param({}, "1770", GradeStanding.AS_MARKED, id="nothing tested: the maker's word"),
        pytest.param(
            {"measured": measured(REQUIRED_N)},
            "1770",
            GradeStanding.SUPPORTED,
            id="the force that the grade asks, exactly",
        ),
        pytest.param(
            {"measured": measured(REQUIRED_N - 1)},
            "",
            GradeStanding.REFUTED,
            id="one newton short: ISO 10425 5.1.4",
        ),
        pytest.param({"marked": "1770"}, "1770", GradeStanding.AS_MARKED, id="the mark agrees"),
        pytest.param({"marked": "1960"}, "", GradeStanding.CONTRADICTED, id="the mark differs"),
        pytest.param({"wires": [GOOD]}, "1770", GradeStanding.SUPPORTED, id="wires in their band"),
        pytest.param({"wires": [BAD]}, "", GradeStanding.REFUTED, id="wires below it"),
        pytest.param(
            {"wires": [GOOD, BAD, GOOD]}, "", GradeStanding.REFUTED, id="one test of wires"
        ),
        pytest.param(
            {"wires": [BAD], "measured": measured(REQUIRED_N)},
            "1770",
            GradeStanding.SUPPORTED,
            id="a break that meets decides over wires",
        ),
        pytest.param(
            {"wires": [GOOD], "measured": measured(REQUIRED_N - 1)},
            "",
            GradeStanding.REFUTED,
            id="and one that fails as well",
        ),
        pytest.param(
            {"marked": "1960", "measured": measured(REQUIRED_N)},
            "",
            GradeStanding.CONTRADICTED,
            id="no test settles a mark that differs",
        ),
    ],
)
def test_a_grade_is_stated_as_far_as_the_record_stands_behind_it(facts, stated, standing):
    claim = certified_grade(designated="1770", **facts)
    assert (claim.stated, claim.standing) == (stated, standing)


def test_a_us_name_is_told_of_and_never_converted():
    """Two trade texts as read: IPS stands with 1770; API 9A tabulates both with other forces."""
    row = GradeName("IPS", "1770", "stated equivalence", Source("two trade texts"))
    claim = certified_grade(designated="IPS", names=[row])
    assert claim.stated == "IPS"
    assert "1770" in " ".join(claim.information)


def test_each_standing_is_said_in_words():
    said = [
        certified_grade(designated="1770").text,
        certified_grade(designated="1770", measured=measured(REQUIRED_N)).text,
        certified_grade(designated="1770", measured=measured(1)).text,
        certified_grade(designated="1770", marked="1570").text,
    ]
    assert said == [
        "1770, as the maker states it",
        "1770, supported by test",
        "none: a test refuted the grade",
        "none: mark and designation differ",
    ]


def test_a_claim_is_frozen_as_plain_text():
    claim = certified_grade(designated="1770", measured=measured(100_000))
    assert claim.as_json()["standing"] == "supported"
    assert "BT-1" in claim.as_json()["reasons"][0]


def test_wires_are_told_beside_a_break_that_decides():
    claim = certified_grade(designated="1770", measured=measured(100_000), wires=[BAD])
    assert claim.reasons[-1] == "WT-2: 3 of 6 wires lie outside"
    refuted = certified_grade(designated="1770", wires=[BAD])
    assert refuted.reasons == ("WT-2: 3 of 6 wires lie outside", RULE)
