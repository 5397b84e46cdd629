"""Factors against NIST SP 811 (2008), appendix B.8; rope sizes against API Spec 9A Table C.1."""

from contextlib import suppress
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules import units
from inventory.rules.refusal import Refusal


@pytest.mark.parametrize(
    ("unit", "printed"),
    [
        # NIST SP 811 (2008) B.8, rounded there to seven digits unless exact.
        pytest.param("lbf", "4.448222E+00", id="pound-force"),
        pytest.param("kgf", "9.80665E+00", id="kilogram-force, exact"),
        pytest.param("tonf (short)", "8.896443E+03", id="ton-force (2000 lbf)"),
    ],
)
def test_force_factors_agree_with_the_published_ones(unit, printed):
    digits = Decimal(printed)
    assert units.N_PER_UNIT[unit].quantize(Decimal((0, (1,), digits.as_tuple().exponent))) == digits


def test_pound_force_is_the_pound_times_standard_gravity():
    # NIST SP 811 B.6: lb = 0.453 592 37 kg exactly; standard gravity 9.806 65 m/s2 exactly.
    assert units.N_PER_UNIT["lbf"] == Decimal("0.45359237") * Decimal("9.80665")


@pytest.mark.parametrize(("unit", "mm"), [("in", "25.4"), ("ft", "304.8"), ("m", "1000")])
def test_length_factors_agree_with_the_published_ones(unit, mm):
    # NIST SP 811 (2008) B.8: inch 2.54E-02 m, foot 3.048E-01 m, both exact.
    assert units.MM_PER_UNIT[unit] == Decimal(mm)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("12.5", 12_500),
        ("12,5 m", 12_500),
        ("12.500 m", 12_500),
        (" 41 ft ", 12_497),  # 12496.8
        ("41ft", 12_497),
        ("3/4 in", 19),  # 19.05
        ("1 1/2 in", 38),  # 38.1
        ("1-1/2 in", 38),
        ('10"', 254),
        ("5 ft 6 in", 1_676),  # 1676.4
        ("41 ft 6 in", 12_649),  # 12649.2
        ("5' 6 1/2\"", 1_689),  # 1689.1
        ("5\N{PRIME}6\N{DOUBLE PRIME}", 1_676),
        ("0,125", 125),
        ("1,05 m", 1_050),
        (".05 m", 50),
        ("10 10/100 in", 257),  # 256.54
        ("0" * 38 + "12", 12_000),
        (".5 m", 500),
        ("250 mm", 250),
        ("2.5 cm", 25),
        ("3 metres", 3_000),
        ("0.5 mm", 1),  # half up
        ("1.4999 mm", 1),
        ("0", 0),
        ("1000 m", 1_000_000),
        ("1000000 m", 10**9),
    ],
)
def test_a_length_is_read_in_whole_millimetres(text, mm):
    assert units.parse_length_mm(text) == mm


def test_the_unit_asked_for_is_meant_where_none_is_written():
    assert units.parse_length_mm("12", unit="mm") == 12
    assert units.parse_force_n("270", unit="lbf") == 1201  # 1201.02


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "not a length"),
        ("ten metres", "not a length"),
        ("-3 m", "not a length"),
        ("1,234.5", "two ways"),
        ("1.234,5", "two ways"),
        ("1,234", "two ways"),
        ("100,234", "two ways"),
        ("1.2.3", "not a number"),
        ("1/0 in", "not a number"),
        ("12 yards", "no unit of length"),
        ("5 ft 6 lb", "not a length"),
        ("1 ft 1 ft 1 in", "not a length"),
        ("1e3", "not a length"),
        ("9" * 41, "too long"),
        ("1000001", "beyond any length"),
        ("١٢", "not a length"),
    ],
)
def test_a_doubtful_length_is_refused_with_the_reason(text, said):
    with pytest.raises(Refusal, match=said) as refused:
        units.parse_length_mm(text)
    assert refused.value.field == "length"


@pytest.mark.parametrize(
    ("text", "n"),
    [
        ("84.6", 84_600),
        ("84,6 kN", 84_600),
        ("84.6kn", 84_600),
        ("500 N", 500),
        ("102 kgf", 1000),  # 1000.28
        ("1 tf", 9807),  # 9806.65
        ("2.64 tonf (short)", 23_487),
        ("2.64 short tonf", 23_487),
        ("270 lbf", 1201),
    ],
)
def test_a_force_is_read_in_whole_newtons(text, n):
    assert units.parse_force_n(text) == n


@pytest.mark.parametrize(
    ("tonf", "printed_kn"),
    [
        # API Spec 9A 26th ed. Table C.1, 6x7 FC: rows that print both short tons and kN.
        ("2.64", "23.5"),
        ("2.90", "25.8"),
        ("10.3", "91.6"),
        ("22.7", "202"),
        ("86.2", "767"),
        ("94.8", "843"),
    ],
)
def test_short_tons_and_kilonewtons_of_one_printed_row_agree(tonf, printed_kn):
    half_digit_kn = Decimal((0, (5,), Decimal(printed_kn).as_tuple().exponent - 1))
    force_kn = Decimal(units.parse_force_n(f"{tonf} tonf (short)")) / 1000
    assert abs(force_kn - Decimal(printed_kn)) <= half_digit_kn


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("100 kg", "is a mass"),
        ("100 lb", "is a mass"),
        ("2 t", "many things"),
        ("2 tons", "no unit of force"),
        ("2 tonf", "many things"),
        ("heavy", "unit: 84.6 kN"),
        ("2,640 lbf", "two ways"),
        ("1000001 kN", "beyond any force"),
    ],
)
def test_a_doubtful_force_is_refused_with_the_reason(text, said):
    with pytest.raises(Refusal, match=said) as refused:
        units.parse_force_n(text)
    assert refused.value.field == "force"


def test_the_pound_is_the_published_one():
    # NIST SP 811 (2008) B.6: 1 lb = 4.535 923 7 E-01 kg, exact.
    assert units.G_PER_UNIT["lb"] / 1000 == Decimal("0.45359237")


@pytest.mark.parametrize(
    ("text", "g"),
    [("104", 104_000), ("104,5 kg", 104_500), ("750 g", 750), ("229 lb", 103_873), ("1 lbs", 454)],
)
def test_a_mass_is_read_in_whole_grams(text, g):
    assert units.parse_mass_g(text) == g  # 229 lb is 103 872.65 g


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2 t", "no unit of mass"),
        ("10 kN", "no unit of mass"),
        ("heavy", "unit: 104 kg"),
        ("1000001 kg", "beyond any mass"),
    ],
)
def test_a_doubtful_mass_is_refused_with_the_reason(text, said):
    with pytest.raises(Refusal, match=said) as refused:
        units.parse_mass_g(text)
    assert refused.value.field == "mass"


@pytest.mark.parametrize(
    ("text", "nm"),
    [
        ("12", 12_000_000),
        ("1.5", 1_500_000),
        ("1,5 mm", 1_500_000),
        ("1/64 in", 396_875),
        ("3/16 in", 4_762_500),
        ("1-1/8 in", 28_575_000),
        ("1 1/8 in", 28_575_000),
        ("0.0312 in", 792_480),
        ('3/4"', 19_050_000),
    ],
)
def test_a_diameter_is_exact_in_nanometres(text, nm):
    assert units.diameter_nm(text) == nm


@pytest.mark.parametrize(
    ("text", "printed_mm"),
    [
        # API Spec 9A 26th ed. Table C.1 prints the least diameter of an inch size in mm.
        ("1/4 in", "6.35"),
        ("5/16 in", "7.94"),
        ("7/16 in", "11.1"),
        ("5/8 in", "15.9"),
        ("1-1/8 in", "28.6"),
        ("1-3/8 in", "34.9"),
    ],
)
def test_an_inch_size_agrees_with_the_printed_millimetres(text, printed_mm):
    half_digit_mm = Decimal((0, (5,), Decimal(printed_mm).as_tuple().exponent - 1))
    diameter_mm = Decimal(units.diameter_nm(text)) / 10**6
    assert abs(diameter_mm - Decimal(printed_mm)) <= half_digit_mm


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("3/16", "in or mm"),
        ("1/3 in", "no diameter"),
        ("0", "no diameter"),
        ("0.0000001", "no diameter"),
        ("1 ft", "mm or in"),
        ("2 stone", "mm or in"),
        ("thick", "unit: 3/16 in"),
        ("1001 mm", "beyond any diameter"),
    ],
)
def test_a_doubtful_diameter_is_refused_with_the_reason(text, said):
    with pytest.raises(Refusal, match=said) as refused:
        units.diameter_nm(text)
    assert refused.value.field == "diameter"


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (12_500, "12.500 m"),
        (7, "0.007 m"),
        (0, "0.000 m"),
        (-1_500, "-1.500 m"),
        (10**9, "1000000.000 m"),
    ],
)
def test_a_length_is_written_to_the_millimetre(mm, text):
    assert units.format_metres(mm) == text


@pytest.mark.parametrize(
    ("n", "text"),
    [
        (84_600, "84.6 kN"),
        (235_000, "235 kN"),
        (2_750, "2.75 kN"),
        (0, "0 kN"),
        (1, "0.001 kN"),
        (-500, "-0.5 kN"),
    ],
)
def test_a_force_is_written_with_no_digit_more_than_it_has(n, text):
    assert units.format_kn(n) == text


@pytest.mark.parametrize(
    ("g", "text"), [(104_500, "104.5 kg"), (0, "0 kg"), (7, "0.007 kg"), (-2_000, "-2 kg")]
)
def test_a_mass_is_written_with_no_digit_more_than_it_has(g, text):
    assert units.format_kg(g) == text


@given(st.integers(0, units.MAX_MASS_G))
def test_a_written_mass_reads_back_as_itself(g):
    assert units.parse_mass_g(units.format_kg(g)) == g


@given(st.integers(0, units.MAX_LENGTH_MM))
def test_a_written_length_reads_back_as_itself(mm):
    assert units.parse_length_mm(units.format_metres(mm)) == mm


@given(st.integers(0, units.MAX_FORCE_N))
def test_a_written_force_reads_back_as_itself(n):
    assert units.parse_force_n(units.format_kn(n)) == n


@given(st.text(alphabet="0123456789.,/- minftkNlbg\"'", max_size=12))
def test_any_text_is_read_or_refused_and_nothing_else(text):
    with suppress(Refusal):
        assert 0 <= units.parse_length_mm(text) <= units.MAX_LENGTH_MM


@given(st.fractions(0, 1000))
def test_rounding_is_half_up(value):
    assert -Fraction(1, 2) < units.round_half_up(value) - value <= Fraction(1, 2)


@pytest.mark.parametrize(
    ("text", "um"),
    [
        ("1000", 1_000_000),
        ("1000.25", 1_000_250),
        ("1000,25 mm", 1_000_250),
        ("0.0005", 1),
        ("1 m", 1_000_000),
        ("39 3/8 in", 1_000_125),
        ("1 in", 25_400),
    ],
)
def test_a_gauge_length_is_read_in_whole_micrometres(text, um):
    # An inch is 25.4 mm exactly (NIST SP 811 (2008) B.8): 39.375 x 25.4 = 1000.125.
    assert units.parse_length_um(text) == um


@pytest.mark.parametrize(
    ("text", "said"), [("1,000", "two ways"), ("1000001", "beyond any"), ("1 kg", "no unit")]
)
def test_a_doubtful_gauge_length_is_refused_with_the_reason(text, said):
    with pytest.raises(Refusal, match=said):
        units.parse_length_um(text)


@given(st.integers(0, units.MAX_GAUGE_UM))
def test_a_written_gauge_length_reads_back_as_itself(um):
    assert units.parse_length_um(units.format_um(um)) == um
