"""Standard uncertainties from limits and certificates (JCGM 100:2008, 4.3)."""

from decimal import Decimal

import pytest

from certs.rules.uncertainty_component import (
    Distribution,
    NoBudget,
    from_expanded,
    kept,
    spread_evenly,
    to_figures,
)


@pytest.mark.parametrize(
    ("distribution", "u"),
    [
        # JCGM 100:2008, 4.3.7 and 4.3.9: a / sqrt(3), a / sqrt(6).
        pytest.param(Distribution.RECTANGULAR, "0.5773503", id="rectangular"),
        pytest.param(Distribution.TRIANGULAR, "0.4082483", id="triangular"),
    ],
)
def test_limits_become_a_standard_uncertainty(distribution, u):
    part = spread_evenly("a", half_width=Decimal(1), distribution=distribution)
    assert kept(part.standard_uncertainty) == u
    assert part.as_json()["divisor"] == kept(part.divisor)


def test_a_certificate_becomes_a_standard_uncertainty():
    # JCGM 100:2008, 4.3.3, example: 240 micrograms at three standard deviations are 80.
    part = from_expanded("mass", expanded=Decimal(240), factor=Decimal(3))
    assert part.standard_uncertainty == 80


def test_the_sign_of_a_sensitivity_is_kept():
    part = spread_evenly("a", half_width=Decimal(3).sqrt(), sensitivity=Decimal(-2))
    assert round(part.contribution, 6) == -2


@pytest.mark.parametrize("factor", ["0", "-2"])
def test_a_coverage_factor_is_above_nought(factor):
    with pytest.raises(NoBudget, match="above nought"):
        from_expanded("a", expanded=Decimal(1), factor=Decimal(factor))


@pytest.mark.parametrize(
    ("value", "text"),
    [("0", "0"), ("12345678.9", "12345680"), ("0.000123456789", "0.0001234568"), ("2.50", "2.5")],
)
def test_what_is_kept_has_seven_figures(value, text):
    assert kept(Decimal(value)) == text


def test_nought_has_no_figures():
    assert to_figures(Decimal("0.00"), 2) == 0
