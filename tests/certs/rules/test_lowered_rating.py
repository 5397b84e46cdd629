"""What a frozen rating comes to when a rope in it turns out weaker.

The formula F KT KL / (Zp g) is that of EN 13414-1; the figures here are worked by hand.
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.lowered_rating import FrozenRating, lowered_rating

# 98.9 kN, KT 0.9, one leg: 98.9 x 0.9 / (5 x 9.81) = 1.8146... t, stated 1.81 t.
ONE_LEG = FrozenRating(
    Decimal("98.9") * Decimal("0.9") / (5 * Decimal("9.81")),
    Decimal("1.81"),
    Decimal("98.9"),
    Decimal("0.9"),
)


@pytest.mark.parametrize(
    ("force_kn", "kt", "rating"),
    [
        pytest.param("98.9", "0.9", "1.81", id="nothing changed"),
        # 90 x 0.9 / 49.05 = 1.6513...
        pytest.param("90", "0.9", "1.65", id="a weaker rope"),
        # 95 x 0.8 / 49.05 = 1.5494...
        pytest.param("95", "0.8", "1.54", id="another piece with a weaker end"),
        # 100 x 1 / 49.05 = 2.03...: that piece never governed.
        pytest.param("100", "1", "1.81", id="a stronger piece"),
    ],
)
def test_a_rating_falls_with_force_and_end(force_kn, kt, rating):
    found = lowered_rating(ONE_LEG, force_kn=Decimal(force_kn), kt=Decimal(kt))
    assert found == Decimal(rating)


def test_a_printed_value_that_governed_stays_while_it_is_the_lower():
    printed = FrozenRating(ONE_LEG.unrounded, Decimal("1.7"), ONE_LEG.force_kn, ONE_LEG.kt)
    assert lowered_rating(printed, force_kn=Decimal(95), kt=Decimal("0.9")) == Decimal("1.7")
    assert lowered_rating(printed, force_kn=Decimal(90), kt=Decimal("0.9")) == Decimal("1.65")


@given(st.integers(1, 200_000), st.integers(0, 50_000))
def test_a_weaker_rope_never_carries_more(force_n, less_n):
    strong, weak = (
        lowered_rating(ONE_LEG, force_kn=Decimal(n) / 1000, kt=Decimal("0.9"))
        for n in (force_n + less_n, force_n)
    )
    assert weak <= strong <= ONE_LEG.stated
