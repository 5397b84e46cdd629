import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.rules.units import diameter_nm, parse_force_n, parse_length_mm, parse_mass_g
from inventory.rules.us_customary import feet, inches, pounds, pounds_force


@pytest.mark.parametrize(
    ("told", "words"),
    [
        # NIST SP 811 (2008), B.8: 1 ft = 0.3048 m, 1 in = 25.4 mm, 1 lb = 0.453 592 37 kg,
        # 1 lbf = 4.448 222 N.
        pytest.param(feet(304_800), "1000.00 ft", id="a thousand feet"),
        pytest.param(feet(12_000), "39.37 ft", id="12 m / 0.3048"),
        pytest.param(feet(-12_000), "-39.37 ft", id="below nothing"),
        pytest.param(feet(0), "0.00 ft", id="nothing"),
        pytest.param(pounds_force(4_448_222), "1000000 lbf", id="a million pounds-force"),
        pytest.param(pounds(453_592), "1000.0 lb", id="a thousand pounds"),
        pytest.param(inches(25_400_000), "1.000 in", id="an inch"),
        pytest.param(inches(9_525_000), "0.375 in", id="3/8 in"),
    ],
)
def test_units_are_told_by_the_published_factors(told, words):
    assert told == words


@pytest.mark.parametrize(
    ("force_n", "short_tons"),
    [(23_500, "2.64"), (25_800, "2.90"), (36_500, "4.10"), (52_100, "5.86"), (70_500, "7.93")],
)
def test_forces_agree_with_a_table_that_prints_both(force_n, short_tons):
    # API Spec 9A, 26th ed. (2011), table C.1, 6x7: kN and short tons in a row, three figures each.
    told = float(pounds_force(force_n).removesuffix(" lbf"))
    assert told == pytest.approx(2000 * float(short_tons), rel=0.005)


@pytest.mark.parametrize(
    ("tell", "read", "step"),
    [
        pytest.param(feet, parse_length_mm, 2, id="length: 0.005 ft"),
        pytest.param(pounds_force, parse_force_n, 3, id="force: 0.5 lbf"),
        pytest.param(pounds, parse_mass_g, 23, id="mass: 0.05 lb"),
    ],
)
@given(value=st.integers(0, 10**8))
def test_what_is_told_means_the_figure_within_half_its_last_digit(tell, read, step, value):
    assert abs(read(tell(value)) - value) <= step


@given(steps=st.integers(1, 4000))
def test_a_diameter_in_inches_is_told_exactly_to_the_thousandth(steps):
    assert diameter_nm(inches(steps * 25_400)) == steps * 25_400
