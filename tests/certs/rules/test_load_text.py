from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.load_text import KG_PER_UNIT, format_tonnes, read_load_kg
from inventory.rules.refusal import Refusal


# NIST SP 811 (2008) B.8: 1 lb = 0.453 592 37 kg; a short ton of 2000 lb = 907.184 74 kg; a metric
# ton (t) = 1000 kg. What is left of a kilogram is dropped.
@pytest.mark.parametrize(
    ("text", "kg"),
    [
        ("1.6", 1600),
        ("1,6 t", 1600),
        ("1600 kg", 1600),
        ("1 tonne", 1000),
        ("3500 lb", 1587),
        ("3500 pounds", 1587),
        ("1 short ton", 907),
        ("1 3/4 short tons", 1587),
        ("1.5999 t", 1599),
        ("0.0314 t", 31),
    ],
)
def test_a_load_is_read_and_rounded_down_to_the_kilogram(text, kg):
    assert read_load_kg(text) == kg


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2 ton", "short ton"),
        ("2 tons", "write t"),
        ("10 kN", "is no unit here"),
        ("0.4 kg", "less than a kilogram"),
        ("0", "less than a kilogram"),
        ("1001 t", "beyond any sling"),
        ("1,600 kg", "two ways"),
        ("heavy", "1.6 t"),
    ],
)
def test_a_doubtful_load_is_refused_with_what_to_write(text, said):
    with pytest.raises(Refusal, match=said):
        read_load_kg(text)


@given(
    number=st.decimals("1", "1000", places=3),
    unit=st.sampled_from(["kg", "lb", "short ton"]),
)
def test_never_more_is_marked_than_was_typed_and_less_by_under_a_kilogram(number, unit):
    exact = Fraction(number) * Fraction(KG_PER_UNIT[unit])
    if exact >= 1:
        assert 0 <= exact - read_load_kg(f"{number} {unit}") < 1


@given(kg=st.integers(1, 10**6))
def test_a_written_load_reads_back_as_itself(kg):
    assert read_load_kg(format_tonnes(kg)) == kg
    assert Decimal(format_tonnes(kg).removesuffix(" t")) * 1000 == kg
