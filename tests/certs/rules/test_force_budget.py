"""The budget of a force shown by a machine: worked by hand from the GUM's own formulas."""

import csv
from dataclasses import replace
from decimal import Decimal
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.force_budget import NO_UNCERTAINTY, MachineKnowledge, force_budget
from certs.rules.machine import MachineClass
from certs.rules.uncertainty_component import Distribution, NoBudget
from tests.certs.rules.tables import SPECIFICATION

with (SPECIFICATION / "iso7500_classes.csv").open(encoding="utf-8") as _sheet:
    ROWS = {
        row["class"]: MachineClass(
            row["class"],
            Decimal(row["accuracy_q_pct"]),
            "ISO 7500-1:2015",
            row["confidence"],
            Decimal(row["repeatability_b_pct"]),
            Decimal(row["resolution_a_pct"]),
        )
        for row in csv.DictReader(_sheet)
    }
ONE = ROWS["1"]
WHOLE = MachineKnowledge(
    "K-1",
    uncertainty_pct=Decimal("0.24"),
    coverage_factor=Decimal(2),
    repeatability_pct=Decimal("0.3"),
    resolution_n=20,
)


def shares(found):
    return [float(part.contribution) for part in found.components]


def test_every_component_of_a_calibration_in_full():
    found = force_budget(100_000, row=ONE, known=WHOLE)
    # By hand: 1000/sqrt(3); 240/2; 300/d2 with d2 = 1.6926 for three; 10/sqrt(3).
    hand = [577.35, 120.0, 177.24, 5.774]
    assert shares(found) == pytest.approx(hand, rel=1e-3)
    assert float(found.combined) == pytest.approx(sqrt(sum(x * x for x in hand)), rel=1e-3)
    # Welch-Satterthwaite with the two degrees of freedom of three series.
    dof = float(found.combined) ** 4 / (177.24**4 / 2)
    assert float(found.effective_degrees_of_freedom) == pytest.approx(dof, rel=5e-3)
    assert found.is_complete
    assert not found.is_provisional


def test_what_the_calibration_does_not_give_is_the_greatest_of_the_class():
    found = force_budget(100_000, row=ONE, known=MachineKnowledge("K-1"))
    # Class 1: q 1 %, b 1 %, a 0.5 %.
    hand = [1000 / sqrt(3), 1000 / sqrt(3), 250 / sqrt(3)]
    assert shares(found) == pytest.approx(hand)
    assert [part.distribution for part in found.components] == [Distribution.RECTANGULAR] * 3
    assert all("not stated" in part.name for part in found.components[1:])
    assert found.effective_degrees_of_freedom is None


def test_an_unknown_uncertainty_of_calibration_is_a_gap():
    found = force_budget(100_000, row=ONE, known=replace(WHOLE, uncertainty_pct=None))
    assert not found.is_complete
    assert [gap.reason for gap in found.gaps] == [NO_UNCERTAINTY]
    assert found.as_json()["gaps"] == [NO_UNCERTAINTY]
    assert NO_UNCERTAINTY in found.derived().remarks


def test_a_class_without_limits_leaves_gaps():
    bare = replace(ONE, repeatability_pct=None, resolution_pct=None)
    found = force_budget(100_000, row=bare, known=MachineKnowledge("K-1"))
    assert [gap.quantity for gap in found.gaps] == [
        "uncertainty of the calibration", "repeatability", "resolution",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "marks"),
    [
        pytest.param("1", ["read", "memory", "memory"], id="error read, others remembered"),
        pytest.param("2", ["memory", "memory", "memory"], id="all remembered"),
    ],
)
def test_each_limit_of_a_class_says_how_well_it_is_known(name, marks):
    found = force_budget(100_000, row=ROWS[name], known=MachineKnowledge("K-1"))
    assert [part.source.confidence for part in found.components] == marks
    assert found.is_provisional


def test_a_force_of_nought_has_no_budget():
    with pytest.raises(NoBudget, match="above nought"):
        force_budget(0, row=ONE, known=WHOLE)


@given(st.integers(1, 10**7), st.integers(1, 10**7))
def test_a_greater_force_is_never_surer(one, other):
    less, more = sorted((one, other))
    assert (
        force_budget(less, row=ONE, known=WHOLE).combined
        <= force_budget(more, row=ONE, known=WHOLE).combined
    )


@given(st.integers(1, 10**7))
def test_a_worse_class_is_never_surer(force_n):
    bare = MachineKnowledge("K-1")
    found = [force_budget(force_n, row=ROWS[name], known=bare) for name in ("0.5", "1", "2", "3")]
    assert [one.expanded for one in found] == sorted(one.expanded for one in found)
