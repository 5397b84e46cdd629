"""Agreed figures: the arithmetic by hand, and the slips that are caught."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.agreed_basis import (
    Agreed,
    agreed_diameter,
    agreed_force,
    agreed_mass,
    agreed_mass_limits,
    check_agreed,
)
from certs.rules.derived import Source
from certs.rules.rope_match import NoBasis
from inventory.rules.designation import parse_designation

PAPER = Source("Agreement 7", "2026", "agreed between the parties")
ROPE = parse_designation("12 6xK36WS-IWRC 1960 U sZ")


def test_an_agreed_force_is_stated_as_agreed():
    found = agreed_force(ROPE, Agreed(PAPER, force_n=131_250))
    assert (found.text, found.rounding) == ("131.25 kN", "none: as given")
    assert "Agreement 7" in found.basis


def test_an_agreed_factor_needs_no_class_of_rope():
    # By hand: 0.42 x 12 x 12 x 1960 / 1000 = 118.5408 kN.
    found = agreed_force(ROPE, Agreed(PAPER, factor_k="0.42"))
    assert (found.unrounded, found.stated) == (Decimal("118.5408"), Decimal(119))
    assert found.inputs[0].source == PAPER


def test_an_agreed_mass_factor_gives_the_mass():
    # By hand: 0.44 x 144 = 63.36 kg/100m.
    assert agreed_mass(ROPE, Agreed(PAPER, factor_k="0.42", factor_w="0.44")).text == "63.4 kg/100m"


def test_what_was_not_agreed_is_not_there():
    agreed = Agreed(PAPER, force_n=131_250)
    assert (agreed_mass(ROPE, agreed), agreed_diameter(ROPE, agreed)) == (None, None)
    assert agreed_mass_limits(agreed) is None


def test_agreed_limits_of_the_diameter():
    agreed = Agreed(PAPER, force_n=1, diameter_minus_pct="0", diameter_plus_pct="2.5")
    limits = agreed_diameter(ROPE, agreed)
    assert (limits.min_mm, limits.max_mm) == (Decimal(12), Decimal("12.3"))


def test_agreed_limits_of_the_mass_stand_without_a_mass_factor():
    agreed = Agreed(PAPER, force_n=1, mass_minus_pct="0", mass_plus_pct="2.5")
    limits = agreed_mass_limits(agreed)
    assert (limits.minus_pct, limits.plus_pct) == (Decimal(0), Decimal("2.5"))
    assert limits.source == PAPER


@pytest.mark.parametrize(
    "agreed",
    [
        Agreed(PAPER, force_n=131_250),
        Agreed(PAPER, factor_k="0.42", factor_w="0.44"),
        # A solid bar of the grade: pi/4.
        Agreed(PAPER, factor_k="0.7854"),
        Agreed(PAPER, factor_k="0.1", diameter_minus_pct="0", diameter_plus_pct="20"),
        Agreed(PAPER, factor_k="0.1", mass_minus_pct="0", mass_plus_pct="20"),
    ],
    ids=["force", "factors", "solid bar", "at the bounds", "mass at the bounds"],
)
def test_figures_that_can_be_pass(agreed):
    check_agreed(agreed)


@pytest.mark.parametrize(
    ("agreed", "field"),
    [
        (Agreed(PAPER), "factor_k"),
        (Agreed(PAPER, factor_k="0.4", force_n=1), "factor_k"),
        (Agreed(PAPER, force_n=0), "force_n"),
        (Agreed(PAPER, force_n=-5), "force_n"),
        (Agreed(PAPER, factor_k="0.79"), "factor_k"),
        (Agreed(PAPER, factor_k="0,4"), "factor_k"),
        (Agreed(PAPER, factor_k="Infinity"), "factor_k"),
        (Agreed(PAPER, force_n=1, factor_w="40"), "factor_w"),
        (Agreed(PAPER, force_n=1, diameter_minus_pct="1"), "diameter_minus_pct"),
        (
            Agreed(PAPER, force_n=1, diameter_minus_pct="-1", diameter_plus_pct="5"),
            "diameter_minus_pct",
        ),
        (
            Agreed(PAPER, force_n=1, diameter_minus_pct="0", diameter_plus_pct="50"),
            "diameter_plus_pct",
        ),
        (Agreed(PAPER, force_n=1, mass_plus_pct="5"), "mass_minus_pct"),
        (Agreed(PAPER, force_n=1, mass_minus_pct="-1", mass_plus_pct="5"), "mass_minus_pct"),
        (Agreed(PAPER, force_n=1, mass_minus_pct="1", mass_plus_pct="five"), "mass_plus_pct"),
    ],
)
def test_figures_that_cannot_be_are_refused_at_their_field(agreed, field):
    with pytest.raises(NoBasis) as refused:
        check_agreed(agreed)
    assert refused.value.field == field


def test_a_us_grade_has_no_number_for_the_factor():
    with pytest.raises(NoBasis, match="is a name"):
        agreed_force(parse_designation("1/2 in 6x7-FC IPS U sZ"), Agreed(PAPER, factor_k="0.332"))


@given(st.integers(min_value=1, max_value=10**8))
def test_an_agreed_force_is_never_rounded(force_n):
    assert agreed_force(ROPE, Agreed(PAPER, force_n=force_n)).stated * 1000 == force_n
