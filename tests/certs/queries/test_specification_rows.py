"""Rows come back from the tables as the rules would read them from the files."""

import csv

import pytest

from certs.models import ForceFactor, TabulatedForce
from certs.queries import specification_rows as rows
from certs.rules.proof_load import ProofRow
from certs.rules.sling_legs import LegFactor
from certs.rules.specification_row import Factor, TableRow
from certs.rules.termination import TerminationRow
from certs.rules.tolerance import DiameterTolerance
from certs.rules.working_load import PublishedLoad
from tests.certs.claims import FOLDER

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


def printed(name):
    with (FOLDER / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize(
    ("held", "file_name", "rule"),
    [
        (rows.tolerance_rows, "diameter_tolerance.csv", DiameterTolerance),
        (rows.termination_rows, "terminations.csv", TerminationRow),
        (rows.leg_factor_rows, "sling_leg_factors.csv", LegFactor),
        (rows.published_load_rows, "sling_wll_table.csv", PublishedLoad),
        (rows.proof_load_rows, "proof_loads.csv", ProofRow),
    ],
)
def test_the_rules_read_the_same_from_table_and_file(held, file_name, rule):
    assert held() == [rule.read(row) for row in printed(file_name)]


def test_factors_and_table_rows_are_read_the_same():
    factors = [rows.factor_of(row) for row in ForceFactor.objects.order_by("id")]
    assert factors == [Factor.read(row) for row in printed("breaking_force_factors.csv")]
    forces = [rows.table_row_of(row) for row in TabulatedForce.objects.order_by("id")]
    assert forces == [TableRow.read(row) for row in printed("breaking_force_tables.csv")]


def test_the_classes_of_machines_carry_their_confidence():
    found = {row.name: row for row in rows.machine_class_rows()}
    assert sorted(found) == ["0.5", "1", "2", "3"]
    assert found["2"].confidence == "memory"


def test_the_tables_are_known_to_be_loaded():
    assert rows.are_loaded()
