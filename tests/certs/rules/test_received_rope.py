"""Mass, declared force, grade, zinc class and mill reel number of a received reel."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.agreed_basis import MassLimits
from certs.rules.breaking_force import declared, derive_from_factor
from certs.rules.derived import Gap, Source, plain
from certs.rules.finding import Verdict
from certs.rules.length_mass import length_mass
from certs.rules.mass_unit import declared_mass
from certs.rules.mill_reel_number import reel_number_finding
from certs.rules.received_force import force_finding
from certs.rules.received_grade import SteelKind, mark_finding, usual_finding
from certs.rules.received_mass import (
    DECLARED_TOPIC,
    WEIGHED_TOPIC,
    mass_deviation,
    mass_finding,
    weighed_mass,
)
from certs.rules.zinc_class import NO_MASSES, check_zinc_class, zinc_finding
from inventory.rules.refusal import Refusal
from tests.certs.rules.tables import API_METRIC, GRADE_NAMES, factor, rope, rope_of, spoken

# The rows of API Spec 9A that class 6x7 with a fibre core reproduces, with a printed mass.
WITH_MASS = [row for row in API_METRIC if row.mass]


# API Spec 9A 26th ed (2011), Table C.1: a metre of the printed mass deviates from W d² by no more
# than the rounding of the printed figure, half a unit of its third figure.
@pytest.mark.parametrize("row", WITH_MASS, ids=spoken)
def test_a_rope_of_the_printed_mass_deviates_by_its_rounding_alone(row):
    expected = length_mass(rope_of(row), factor("6x7", "FC"))
    printed_kg_per_100m = Decimal(row.mass) * (100 if row.mass_unit == "kg/m" else 1)
    weighed = weighed_mass(length_mm=100_000, mass_g=int(printed_kg_per_100m * 1000))
    half_a_unit = Decimal(1).scaleb(printed_kg_per_100m.adjusted() - 2) / 2
    allowed_pct = half_a_unit / expected.unrounded * 100
    assert abs(mass_deviation(weighed, expected).unrounded) <= allowed_pct


def test_a_weighing_by_hand():
    # 2.5 m of 8 mm rope weighing 640 g are 25.6 kg per 100 m; W d² of 6x19 with a steel core is
    # 0.400 x 64 = 25.6 (Feyrer, Table 1.9).
    weighed = weighed_mass(length_mm=2_500, mass_g=640)
    expected = length_mass(rope("8", "6x19S-IWRC"), factor("6x19", "IWRC"))
    assert plain(weighed.stated) == "25.6"
    assert mass_deviation(weighed, expected).stated == 0
    heavier = mass_deviation(weighed_mass(length_mm=2_500, mass_g=672), expected)
    assert plain(heavier.stated) == "5.00"


def test_no_mass_is_rejected_as_no_tolerance_is_published():
    expected = length_mass(rope("8", "6x19S-IWRC"), factor("6x19", "IWRC"))
    double = weighed_mass(length_mm=1_000, mass_g=512)
    finding = mass_finding(double, expected, topic=WEIGHED_TOPIC)
    assert finding.verdict is Verdict.CANNOT_SAY
    assert "51.2 kg/100m, +100 % from 25.6 kg/100m" in finding.text
    assert any("No published tolerance of the mass is held" in one for one in finding.warnings)
    light = mass_finding(
        declared_mass(g_per_100m=24_320, document="MD-1"), expected, topic=DECLARED_TOPIC
    )
    assert "24.32 kg/100m, -5.00 % from 25.6 kg/100m" in light.text


AGREED = Source("Agreement 7", "2026", "agreed between the parties")


# By hand: W d² = 25.6 kg per 100 m, 3 % below it 24.832, 5 % above it 26.88.
@pytest.mark.parametrize(
    ("mass_g", "verdict"),
    [
        pytest.param(24_831, Verdict.DISAGREE, id="a gram too light"),
        pytest.param(24_832, Verdict.AGREE, id="at the lower limit"),
        pytest.param(26_880, Verdict.AGREE, id="at the upper limit"),
        pytest.param(26_881, Verdict.DISAGREE, id="a gram too heavy"),
    ],
)
@pytest.mark.parametrize("topic", [WEIGHED_TOPIC, DECLARED_TOPIC])
def test_a_mass_is_judged_where_limits_were_agreed(mass_g, verdict, topic):
    expected = length_mass(rope("8", "6x19S-IWRC"), factor("6x19", "IWRC"))
    found = (
        weighed_mass(length_mm=100_000, mass_g=mass_g)
        if topic == WEIGHED_TOPIC
        else declared_mass(g_per_100m=mass_g, document="MD-1")
    )
    limits = MassLimits(Decimal(3), Decimal(5), AGREED)
    finding = mass_finding(found, expected, topic=topic, limits=limits)
    assert (finding.verdict, finding.source, finding.warnings) == (verdict, AGREED, ())
    assert "limits 24.832 kg/100m to 26.88 kg/100m" in finding.text
    assert finding.rule == "mass per length from 3 % below to 5 % above W d²"
    assert [one.symbol for one in finding.derived] == ["ΔM", "Mmin", "Mmax"]


def test_an_expected_mass_from_memory_rejects_nothing():
    # 8x19S belongs to class 8x19 by a number of wires known from memory.
    expected = length_mass(rope("12", "8x19S-IWRC"), factor("8x19", "IWRC"))
    assert expected.is_provisional
    limits = MassLimits(Decimal(0), Decimal(0), AGREED)
    double = weighed_mass(length_mm=1_000, mass_g=5_000)
    finding = mass_finding(double, expected, topic=WEIGHED_TOPIC, limits=limits)
    assert finding.verdict is Verdict.CANNOT_SAY
    assert "outside the limits" in finding.text
    assert any("rejects nothing" in one for one in finding.warnings)


def test_limits_judge_no_mass_that_is_not_known():
    expected = length_mass(rope("8", "6x19S-IWRC"), factor("6x19", "IWRC"))
    limits = MassLimits(Decimal(3), Decimal(5), AGREED)
    gap = Gap("length mass", "No length was weighed.")
    finding = mass_finding(gap, expected, topic=WEIGHED_TOPIC, limits=limits)
    assert finding.verdict is Verdict.CANNOT_SAY


@given(st.integers(1, 10**6), st.integers(0, 20), st.integers(0, 20), st.integers(0, 5))
def test_wider_limits_never_reject_what_narrower_ones_take(mass_g, minus, plus, wider):
    expected = length_mass(rope("8", "6x19S-IWRC"), factor("6x19", "IWRC"))
    found = weighed_mass(length_mm=100_000, mass_g=mass_g)
    narrow, wide = (
        mass_finding(
            found,
            expected,
            topic=WEIGHED_TOPIC,
            limits=MassLimits(Decimal(minus + more), Decimal(plus + more), AGREED),
        ).verdict
        for more in (0, wider)
    )
    assert narrow is Verdict.DISAGREE or wide is Verdict.AGREE


def test_a_mass_that_is_not_known_on_one_side_is_said():
    gap = Gap("length mass", "Nothing was weighed.")
    expected = length_mass(rope("8", "6x19S-IWRC"), factor("6x19", "IWRC"))
    assert mass_finding(gap, expected, topic=WEIGHED_TOPIC).text == "Nothing was weighed."
    weighed = weighed_mass(length_mm=1_000, mass_g=256)
    unknown = mass_finding(weighed, Gap("length mass", "No factor."), topic=WEIGHED_TOPIC)
    assert unknown.text == "25.6 kg/100m. No factor."
    assert {unknown.verdict} == {Verdict.CANNOT_SAY}


@given(st.integers(1, 10**6), st.integers(1, 10**6))
def test_a_heavier_rope_deviates_more(mass_g, more_g):
    expected = length_mass(rope("8", "6x19S-IWRC"), factor("6x19", "IWRC"))
    light, heavy = (
        mass_deviation(weighed_mass(length_mm=5_000, mass_g=one), expected)
        for one in (mass_g, mass_g + more_g)
    )
    assert light.unrounded < heavy.unrounded


# API Spec 9A Table C.1: 12 mm 6x7-FC 1770 is 84.6 kN, which K d² Rr reproduces.
@pytest.mark.parametrize(
    ("force_n", "verdict"),
    [
        pytest.param(84_600, Verdict.AGREE, id="as printed"),
        pytest.param(90_000, Verdict.AGREE, id="above"),
        pytest.param(84_599, Verdict.DISAGREE, id="a newton below"),
    ],
)
def test_a_declared_force_bears_out_the_basis_or_not(force_n, verdict):
    basis = derive_from_factor(rope("12", "6x7-FC"), factor("6x7", "FC"))
    finding = force_finding(declared(force_n=force_n, document="MD-1"), basis)
    assert finding.verdict is verdict
    assert bool(finding.warnings) is (verdict is Verdict.DISAGREE)


def test_a_basis_from_memory_rejects_no_declared_force():
    # 8x19S belongs to class 8x19 by a number of wires known from memory.
    basis = derive_from_factor(rope("12", "8x19S-IWRC"), factor("8x19", "IWRC"))
    assert basis.is_provisional
    finding = force_finding(declared(force_n=1_000, document="MD-1"), basis)
    assert finding.verdict is Verdict.CANNOT_SAY
    assert "below" in finding.text


def test_without_basis_or_declared_force_nothing_is_compared():
    force = declared(force_n=84_600, document="MD-1")
    no_basis = force_finding(force, Gap("basis", "No basis is named."))
    assert no_basis.verdict is Verdict.CANNOT_SAY
    assert "84.6 kN. No basis is named." in no_basis.text
    basis = derive_from_factor(rope("12", "6x7-FC"), factor("6x7", "FC"))
    none_declared = force_finding(Gap("force", "None is declared."), basis)
    assert none_declared.verdict is Verdict.CANNOT_SAY


@pytest.mark.parametrize(
    ("designated", "marked", "verdict"),
    [
        pytest.param("1770", "1770", Verdict.AGREE, id="the same"),
        pytest.param("1770", "1960", Verdict.DISAGREE, id="a higher mark"),
        pytest.param("1770", "IPS", Verdict.DISAGREE, id="a US name is never converted"),
        pytest.param("IPS", "IPS", Verdict.AGREE, id="the same US name"),
        pytest.param("1770", "", Verdict.CANNOT_SAY, id="no mark"),
    ],
)
def test_the_mark_is_the_grade_of_the_designation(designated, marked, verdict):
    finding = mark_finding(designated=designated, marked=marked, names=GRADE_NAMES)
    assert finding.verdict is verdict


# Habit of the trade, with no source: stainless is generally 1570, galvanised 1770 to 1960.
@pytest.mark.parametrize(
    ("grade", "finish", "stainless", "verdict"),
    [
        pytest.param("1570", "U", [True], Verdict.AGREE, id="stainless 1570"),
        pytest.param("1770", "U", [True], Verdict.CANNOT_SAY, id="stainless 1770"),
        pytest.param("1570", "B", [True], Verdict.CANNOT_SAY, id="stainless with zinc"),
        pytest.param("1770", "B", [False], Verdict.AGREE, id="galvanised 1770"),
        pytest.param("1960", "A", [False], Verdict.AGREE, id="galvanised 1960"),
        pytest.param("2160", "B", [False], Verdict.CANNOT_SAY, id="galvanised 2160"),
        pytest.param("1770", "U", [False], Verdict.CANNOT_SAY, id="bright"),
        pytest.param("IPS", "B", [False], Verdict.CANNOT_SAY, id="a US name"),
        pytest.param("1570", "U", [True, False], Verdict.CANNOT_SAY, id="mixed steels"),
        pytest.param("1570", "U", [None], Verdict.CANNOT_SAY, id="unknown steel"),
        pytest.param("1570", "U", [], Verdict.CANNOT_SAY, id="no heat"),
    ],
)
def test_what_is_usual_may_agree_and_never_disagrees(grade, finish, stainless, verdict):
    steels = [SteelKind(str(i), "a steel", one) for i, one in enumerate(stainless)]
    finding = usual_finding(grade=grade, finish=finish, steels=steels)
    assert finding.verdict is verdict
    assert finding.is_provisional
    assert finding.text


@pytest.mark.parametrize(
    ("finish", "zinc_class", "is_assumed", "verdict"),
    [
        pytest.param("B", "B", False, Verdict.AGREE, id="as demanded"),
        pytest.param("B", "A", False, Verdict.DISAGREE, id="another class"),
        pytest.param("A", "", False, Verdict.CANNOT_SAY, id="none stated"),
        pytest.param("U", "", False, Verdict.AGREE, id="bright"),
        pytest.param("U", "B", False, Verdict.DISAGREE, id="zinc on bright rope"),
        pytest.param("U", "B", True, Verdict.CANNOT_SAY, id="bright was only assumed"),
        pytest.param("U", "", True, Verdict.CANNOT_SAY, id="nothing is known of the finish"),
    ],
)
def test_the_zinc_class_is_the_one_that_the_finish_demands(finish, zinc_class, is_assumed, verdict):
    finding = zinc_finding(finish=finish, zinc_class=zinc_class, is_assumed=is_assumed)
    assert finding.verdict is verdict
    # Zinc masses of EN 10264-2 were not read by anybody here: whoever reads of zinc is told.
    assert (NO_MASSES in finding.warnings) is (finish != "U" or zinc_class != "")


def test_only_a_zinc_class_is_one():
    assert check_zinc_class(" B ") == "B"
    assert check_zinc_class("") == ""
    for wrong in ("U", "C", "b"):
        with pytest.raises(Refusal, match="no zinc class"):
            check_zinc_class(wrong)


@pytest.mark.parametrize(
    ("number", "earlier", "verdict"),
    [
        pytest.param("K-1", [], Verdict.AGREE, id="new"),
        pytest.param("K-1", ["R-00004"], Verdict.DISAGREE, id="received already"),
        pytest.param("", [], Verdict.CANNOT_SAY, id="no number"),
    ],
)
def test_a_mill_gives_a_number_once(number, earlier, verdict):
    finding = reel_number_finding(number, earlier)
    assert finding.verdict is verdict
    assert all(code in finding.text for code in earlier)
