"""Strength with ends: the product, rounded down, and never above the rope's own."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.breaking_force import declared
from certs.rules.derived import Source
from certs.rules.ended_rope import ended_force
from certs.rules.termination import Efficiency, TerminationKind

# EN 13411-3: 0.90 for a ferrule-secured eye (two sources).
EYE = Efficiency(
    TerminationKind.FERRULE_SECURED_EYE, "ferrule-secured eye", Decimal("0.90"), "0.90",
    Source("EN 13411-3", "2022", "two-sources"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("force_n", "expected"),
    [
        pytest.param(84_600, "76.1", id="76.14 down"),
        pytest.param(98_900, "89.0", id="89.01 down"),
        pytest.param(98_999, "89.0", id="89.0991 down and not up"),
    ],
)
def test_the_product_is_rounded_down(force_n, expected):
    found = ended_force(declared(force_n=force_n, document="D 1"), end=EYE)
    assert str(found.stated) == expected


def test_it_names_the_end_and_rests_on_the_force():
    force = declared(force_n=84_600, document="D 1")
    found = ended_force(force, end=EYE)
    assert found.rests_on == (force,)
    assert "ferrule-secured eye" in found.basis
    assert found.source == EYE.source


@given(st.integers(min_value=1_000, max_value=10**7))
def test_it_is_never_overstated(force_n):
    found = ended_force(declared(force_n=force_n, document="D 1"), end=EYE)
    assert found.stated <= found.unrounded <= Decimal(force_n) / 1000
