"""Limits of building: trade summary of EN 13414-1 and its American twin, both read as such."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.bearing import bearing_finding
from certs.rules.built_sling import BuiltEnd, BuiltLeg, BuiltSling, RatedFitting
from certs.rules.finding import Verdict
from certs.rules.grips import grip_finding
from certs.rules.sling_build import build_findings
from certs.rules.sling_legs import AngleConvention, LegArrangement
from certs.rules.termination import TerminationKind

FERRULE, SPLICE, SOCKET = (
    TerminationKind.FERRULE_SECURED_EYE,
    TerminationKind.HAND_SPLICE,
    TerminationKind.SOCKET,
)
EN, US = AngleConvention.FROM_VERTICAL, AngleConvention.FROM_HORIZONTAL
AGREE, DISAGREE, CANNOT_SAY = Verdict.AGREE, Verdict.DISAGREE, Verdict.CANNOT_SAY


def sling(
    *kinds, legs="one_leg", clear_mm=None, length_mm=4000, bend_mm=None, recorded=None, **end
):
    ends = tuple(BuiltEnd(f"end {number}", kind, **end) for number, kind in enumerate(kinds))
    leg = BuiltLeg("leg", Decimal(10), length_mm, clear_mm, ends, recorded)
    return BuiltSling(LegArrangement(legs), (leg,), bend_mm)


def verdicts(asked, topic, convention=EN, *, leg_t=None, lay_mm=None):
    found = build_findings(asked, convention=convention, leg_t=leg_t, lay_mm=lay_mm)
    return [finding.verdict for finding in found if finding.topic == topic]


@pytest.mark.parametrize(
    ("kinds", "clear_mm", "convention", "verdict"),
    [
        pytest.param((FERRULE, FERRULE), 200, EN, AGREE, id="20d-between-ferrules"),
        pytest.param((FERRULE, FERRULE), 199, EN, DISAGREE, id="below-20d"),
        pytest.param((SPLICE, SPLICE), 150, EN, AGREE, id="15d-between-splices"),
        pytest.param((SPLICE, SPLICE), 149, EN, DISAGREE, id="below-15d"),
        pytest.param((FERRULE, SPLICE), 200, EN, AGREE, id="mixed-meets-both"),
        pytest.param((FERRULE, SPLICE), 199, EN, CANNOT_SAY, id="mixed-meets-one"),
        pytest.param((FERRULE, SPLICE), 149, EN, DISAGREE, id="mixed-meets-none"),
        pytest.param((FERRULE, FERRULE), 100, US, AGREE, id="10d-american"),
        pytest.param((FERRULE, FERRULE), 99, US, DISAGREE, id="below-10d-american"),
        pytest.param((FERRULE, FERRULE), None, EN, CANNOT_SAY, id="not-measured"),
    ],
)
def test_clear_rope(kinds, clear_mm, convention, verdict):
    assert verdicts(sling(*kinds, clear_mm=clear_mm), "Clear rope", convention) == [verdict]


def test_a_piece_shorter_than_the_limit_needs_no_measuring():
    asked = sling(FERRULE, FERRULE, length_mm=199)
    assert verdicts(asked, "Clear rope") == [DISAGREE]


@pytest.mark.parametrize("kinds", [(SOCKET, SOCKET), (FERRULE, SOCKET)])
def test_no_limit_is_held_between_other_ends(kinds):
    assert verdicts(sling(*kinds, clear_mm=1), "Clear rope") == []


@pytest.mark.parametrize(
    ("length_mm", "verdict"),
    [pytest.param(959, DISAGREE, id="96d-out-of-reach"), pytest.param(960, CANNOT_SAY, id="96d")],
)
def test_an_american_grommet_is_96_diameters_round(length_mm, verdict):
    asked = sling(SPLICE, legs="endless_choke", length_mm=length_mm)
    assert verdicts(asked, "Circumference", US) == [verdict]
    assert build_findings(asked, convention=EN, leg_t=None) == ()


@pytest.mark.parametrize(
    ("eye_mm", "lay_mm", "verdict"),
    [
        pytest.param(260, "65", AGREE, id="four-lays"),
        pytest.param(259, "65", DISAGREE, id="below-four-lays"),
        pytest.param(None, "65", CANNOT_SAY, id="eye-not-measured"),
        pytest.param(500, None, CANNOT_SAY, id="lay-not-held"),
        pytest.param(None, None, CANNOT_SAY, id="nothing-measured"),
    ],
)
def test_soft_eye(eye_mm, lay_mm, verdict):
    lay = None if lay_mm is None else Decimal(lay_mm)
    assert verdicts(sling(SPLICE, eye_mm=eye_mm), "Soft eye", lay_mm=lay) == [verdict]


@pytest.mark.parametrize(
    ("eye_mm", "asked", "needed_mm", "verdict"),
    [
        pytest.param(260, None, 260, AGREE, id="four-lays-on-record"),
        pytest.param(259, None, 260, DISAGREE, id="below-four-lays-on-record"),
        pytest.param(280, "70", 280, AGREE, id="four-of-a-longer-lay-typed"),
        pytest.param(279, "70", 280, DISAGREE, id="below-four-of-a-longer-lay-typed"),
        pytest.param(259, "60", 260, DISAGREE, id="a-shorter-lay-typed"),
    ],
)
def test_of_two_lays_the_longer_one_counts(eye_mm, asked, needed_mm, verdict):
    built = sling(SPLICE, eye_mm=eye_mm, recorded=Decimal(65))
    lay = None if asked is None else Decimal(asked)
    (finding,) = (
        one
        for one in build_findings(built, convention=EN, leg_t=None, lay_mm=lay)
        if one.topic == "Soft eye"
    )
    assert finding.verdict is verdict
    assert f"at least {needed_mm} mm" in finding.text
    # Whoever typed another figure is told which of the two counted.
    assert any("recorded with 65 mm" in one for one in finding.warnings) is (asked is not None)


@pytest.mark.parametrize(
    ("kind", "has_thimble", "convention"),
    [(FERRULE, True, EN), (SOCKET, False, EN), (SPLICE, False, US)],
)
def test_no_limit_of_eyes_is_held_for_thimbles_fittings_or_american_slings(
    kind, has_thimble, convention
):
    asked = sling(kind, has_thimble=has_thimble, eye_mm=10)
    assert verdicts(asked, "Soft eye", convention, lay_mm=Decimal(65)) == []


@pytest.mark.parametrize(
    ("legs", "rated_kg", "leg_t", "convention", "verdict"),
    [
        pytest.param("three_legs", 1840, "1.15", EN, AGREE, id="1.6-times-a-leg"),
        pytest.param("four_legs", 1839, "1.15", EN, CANNOT_SAY, id="hook-or-link"),
        pytest.param("four_legs", 1149, "1.15", EN, DISAGREE, id="weaker-than-a-leg"),
        pytest.param("one_leg", 1150, "1.15", EN, AGREE, id="hook-of-one-leg"),
        pytest.param("one_leg", 1149, "1.15", EN, DISAGREE, id="hook-too-weak"),
        pytest.param("four_legs", 1150, "1.15", US, AGREE, id="american"),
        pytest.param("four_legs", None, "1.15", EN, CANNOT_SAY, id="no-mark"),
        pytest.param("four_legs", 1840, None, EN, CANNOT_SAY, id="leg-not-rated"),
    ],
)
def test_link_or_hook(legs, rated_kg, leg_t, convention, verdict):
    asked = sling(FERRULE, legs=legs, links=(RatedFitting("link F-1", rated_kg),))
    leg = None if leg_t is None else Decimal(leg_t)
    assert verdicts(asked, "Link or hook", convention, leg_t=leg) == [verdict]


@pytest.mark.parametrize(
    ("kind", "bend_mm", "verdict"),
    [
        pytest.param(FERRULE, 20, AGREE, id="two-diameters"),
        pytest.param(FERRULE, 19, DISAGREE, id="thinner-under-a-soft-eye"),
        pytest.param(SOCKET, 19, CANNOT_SAY, id="thinner-under-a-fitting"),
        pytest.param(SOCKET, 10, DISAGREE, id="one-diameter-halves-it"),
        pytest.param(FERRULE, None, CANNOT_SAY, id="not-said"),
    ],
)
def test_bearing(kind, bend_mm, verdict):
    assert bearing_finding(sling(kind, bend_mm=bend_mm)).verdict is verdict


def test_an_endless_sling_has_no_soft_eye():
    asked = sling(SPLICE, legs="endless_choke", bend_mm=15)
    assert bearing_finding(asked).verdict is CANNOT_SAY


def test_grips_are_spaced_at_six_diameters_and_their_count_is_a_gap():
    # 29 CFR 1918 Appendix II, read for the spacing; the count by size was not read.
    finding = grip_finding(place="near end", grips=3, diameter_mm=Decimal("9.5"))
    assert (finding.verdict, finding.derived[0].text) == (CANNOT_SAY, "57 mm")
    assert finding.warnings == ()


def test_two_grips_are_warned_of_from_memory():
    finding = grip_finding(place="near end", grips=2, diameter_mm=Decimal(10))
    assert "from memory" in finding.warnings[0]


lengths = st.integers(1, 20_000)


@given(clear_mm=lengths, more_mm=lengths, us=st.booleans())
def test_more_clear_rope_never_makes_it_worse(clear_mm, more_mm, us):
    order = [DISAGREE, CANNOT_SAY, AGREE]

    def verdict(length):
        asked = sling(FERRULE, SPLICE, clear_mm=length)
        return verdicts(asked, "Clear rope", US if us else EN)[0]

    assert order.index(verdict(clear_mm)) <= order.index(verdict(clear_mm + more_mm))


@given(bend_mm=lengths, more_mm=lengths, kind=st.sampled_from([FERRULE, SOCKET]))
def test_a_thicker_pin_never_makes_it_worse(bend_mm, more_mm, kind):
    order = [DISAGREE, CANNOT_SAY, AGREE]

    def verdict(thickness):
        return bearing_finding(sling(kind, bend_mm=thickness)).verdict

    assert order.index(verdict(bend_mm)) <= order.index(verdict(bend_mm + more_mm))
