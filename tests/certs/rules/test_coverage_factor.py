"""Coverage factors against GUM Table G.2, degrees of freedom by Welch-Satterthwaite."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.coverage_factor import coverage_factor, effective_degrees_of_freedom
from certs.rules.uncertainty_component import Component, Distribution

HALF = Decimal("0.5")


def part(u, dof=None):
    degrees = None if dof is None else Decimal(dof)
    return Component(
        "a", Decimal(0), Decimal(u), Distribution.NORMAL, Decimal(1), degrees_of_freedom=degrees
    )


@pytest.mark.parametrize(
    ("dof", "coverage", "k"),
    [
        # JCGM 100:2008, Table G.2.
        pytest.param("16", "0.95", "2.12", id="16 dof, 95 %"),
        pytest.param("16", "0.9545", "2.17", id="16 dof, 95.45 %"),
        pytest.param("16", "0.99", "2.92", id="16 dof, 99 %"),
        pytest.param("16.65", "0.99", "2.92", id="cut to whole dof"),
        pytest.param(None, "0.9545", "2.00", id="not limited"),
        pytest.param("0.4", "0.95", "12.71", id="one at the least"),
    ],
)
def test_coverage_factors_of_gum_table_g_2(dof, coverage, k):
    degrees = None if dof is None else Decimal(dof)
    found = coverage_factor(coverage=Decimal(coverage), degrees_of_freedom=degrees)
    assert round(found, 2) == Decimal(k)


@pytest.mark.parametrize(
    ("parts", "pairs", "combined", "dof"),
    [
        # JCGM 100:2008, G.4.1: u_c^4 / sum(u^4 / dof).
        pytest.param([part(1, 4), part(1)], {}, 2**0.5, 16, id="one limited of two"),
        pytest.param([part(1), part(1)], {}, 2**0.5, None, id="none limited"),
        pytest.param([part(0, 4), part(1)], {}, 1, None, id="limited, but of nothing"),
        pytest.param(
            [part(1), part(1), part(1, 4)], {(0, 1): HALF}, 2, 64, id="correlated, not limited"
        ),
        pytest.param(
            [part(1, 9), part(1), part(1, 2)], {(0, 1): HALF}, 2, 2, id="correlated and limited"
        ),
        pytest.param(
            [part(1, 9), part(1, 4)], {(0, 1): Decimal(0)}, 2**0.5, 11.077, id="correlated by none"
        ),
    ],
)
def test_effective_degrees_of_freedom(parts, pairs, combined, dof):
    found, remarks = effective_degrees_of_freedom(parts, pairs, Decimal(str(combined)))
    assert found is None if dof is None else float(found) == pytest.approx(dof, abs=0.001)
    assert bool(remarks) == (dof == 2)


@given(st.integers(1, 200), st.integers(1, 200))
def test_fewer_degrees_of_freedom_never_make_it_surer(one, other):
    few, many = sorted((one, other))
    usual = Decimal("0.95")
    assert coverage_factor(coverage=usual, degrees_of_freedom=Decimal(few)) >= coverage_factor(
        coverage=usual, degrees_of_freedom=Decimal(many)
    )
