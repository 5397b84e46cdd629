"""Budgets against the worked examples of EA-4/02 and of the GUM (JCGM 100:2008)."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.derived import Source
from certs.rules.uncertainty_budget import budget, correlation
from certs.rules.uncertainty_component import NoBudget, spread_evenly
from tests.certs.rules.budgets import end_gauge, impedances, normal, ten_kilogram_weight


def test_ten_kilogram_weight_of_ea_4_02_s2():
    # EA-4/02, example S2, in mg: prints u = 29.3 and U = 59 (from memory); a recalculated sheet
    # gives 29.1 and 58 with 14.2 in place of 25/sqrt(3) = 14.4 for the difference.
    found = ten_kilogram_weight()
    assert sum(part.value for part in found.components) == 10000025
    assert Decimal("29.1") <= found.combined <= Decimal("29.3")
    assert found.coverage_factor == pytest.approx(Decimal(2), abs=Decimal("0.0001"))
    assert found.stated in (Decimal(58), Decimal(59))


def test_end_gauge_of_gum_h_1():
    # JCGM 100:2008, H.1, in nm: first-order u_c = 32, effective dof 16, k = 2.92, U99 = 93.
    found = end_gauge()
    # Table H.1 prints 16.6 where its own figures give 16.68.
    shares = [float(abs(part.contribution)) for part in found.components]
    assert shares == pytest.approx([25, 9.7, 0, 0, 2.9, 16.6], abs=0.09)
    assert round(found.combined) == 32
    assert int(found.effective_degrees_of_freedom) == 16
    assert round(found.coverage_factor, 2) == Decimal("2.92")
    assert found.stated == 93
    assert found.components[0].value + found.components[1].value == 50_000_838


def test_resistance_and_reactance_of_gum_h_2():
    # JCGM 100:2008, Table H.4: R 127.732 u 0.071, X 219.847 u 0.295, Z 254.260 u 0.236;
    # r(R,X) -0.588, r(R,Z) -0.485, r(X,Z) 0.993. Recomputed from the readings u(X) is 0.2956.
    found = impedances()
    values = {name: value for name, (value, _) in found.items()}
    assert values == pytest.approx({"R": 127.732, "X": 219.847, "Z": 254.260}, abs=0.0005)
    resistance, reactance, modulus = (one for _, one in found.values())
    assert float(resistance.combined) == pytest.approx(0.071, abs=0.0005)
    assert float(reactance.combined) == pytest.approx(0.2955, abs=0.0006)
    assert float(modulus.combined) == pytest.approx(0.236, abs=0.0005)
    assert float(correlation(resistance, reactance)) == pytest.approx(-0.588, abs=0.0005)
    assert float(correlation(resistance, modulus)) == pytest.approx(-0.485, abs=0.0005)
    assert float(correlation(reactance, modulus)) == pytest.approx(0.993, abs=0.0005)
    # Five readings each: no more than four degrees of freedom, and it is said why.
    assert resistance.effective_degrees_of_freedom == 4
    assert "correlated" in resistance.remarks[0]
    assert "correlated terms" in resistance.derived().rests_on[0].formula


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        pytest.param({"components": []}, "one component", id="nothing"),
        pytest.param({"components": [normal("a", -1)]}, "not below nought", id="negative"),
        pytest.param({"components": [normal("a", 1, dof=0)]}, "above nought", id="no dof"),
        pytest.param({"components": [normal("a", 1)], "coverage": Decimal(1)}, "between", id="all"),
        pytest.param(
            {"components": [normal("a", 1)] * 2, "correlations": {(1, 0): Decimal(1)}},
            "once",
            id="pair turned",
        ),
        pytest.param(
            {"components": [normal("a", 1)] * 2, "correlations": {(0, 1): Decimal("1.1")}},
            "contradict",
            id="more than whole",
        ),
        pytest.param(
            {
                "components": [normal("a", 1)] * 3,
                "correlations": {(0, 1): Decimal(1), (1, 2): Decimal(1), (0, 2): Decimal(-1)},
            },
            "contradict",
            id="three that cannot be",
        ),
    ],
)
def test_what_is_no_budget(arguments, words):
    with pytest.raises(NoBudget, match=words):
        budget(**arguments)


def test_nothing_uncertain_has_no_uncertainty():
    found = budget([normal("a", 0, dof=4)])
    assert (found.combined, found.expanded, found.stated) == (0, 0, 0)
    assert found.effective_degrees_of_freedom is None


def test_it_tells_itself():
    found = budget([normal("a", 3), normal("b", 4, dof=10)], quantity="force", unit="N")
    told = found.derived()
    (combined,) = told.rests_on
    assert [given.value for given in combined.inputs] == ["3", "4"]
    assert "√(3² + 4²) = 5 N" in combined.steps()[3]
    assert told.stated == found.stated
    assert "24 degrees" in told.inputs[0].name
    assert found.as_json()["combined"] == "5"
    assert found.as_json()["components"][0]["degrees_of_freedom"] is None
    assert not found.is_provisional


def test_memory_makes_it_provisional():
    source = Source("a table", confidence="memory")
    found = budget([spread_evenly("a", half_width=Decimal(1), source=source)])
    assert found.is_provisional


UNCERTAINTIES = st.lists(
    st.decimals(min_value=0, max_value=10**6, places=3), min_size=1, max_size=6
)


@given(UNCERTAINTIES, st.decimals(min_value=0, max_value=1000, places=3))
def test_one_more_component_never_makes_it_surer(values, more):
    parts = [normal("a", value) for value in values]
    assert budget([*parts, normal("b", more)]).combined >= budget(parts).combined


@given(UNCERTAINTIES)
def test_whole_correlation_adds_up(values):
    parts = [normal("a", value) for value in values]
    pairs = {(i, j): Decimal(1) for j in range(len(parts)) for i in range(j)}
    found = budget(parts, correlations=pairs)
    assert found.combined == pytest.approx(sum(values), abs=Decimal("1e-6"))
