"""Invented decision rules, and a machine whose calibration states its uncertainty."""

from datetime import date, timedelta

from certs.models import DecisionRule
from certs.services.decision_rules import choose_rule
from inventory.models import Party, TestingMachine
from inventory.services.machines import record_calibration
from tests.factories import MOMENT, given_machine, given_person

EARLIER = MOMENT - timedelta(days=1)


def given_rule(
    *,
    name: str = "guard band of U",
    multiple: str = "1",
    agreed_with: Party | None = None,
    at=EARLIER,
) -> DecisionRule:
    """A guard band w = U, chosen the day before `MOMENT`; no multiple: simple acceptance."""
    return choose_rule(
        name=name,
        kind="guarded" if multiple else "simple",
        multiple=multiple,
        agreed_with=agreed_with,
        paper="quality instruction 7, clause 2",
        by=given_person(),
        at=at,
    )


def given_sure_machine() -> TestingMachine:
    """Class 1; U = 0.24 % with k = 2, repeatability 0.3 %, resolution 10 N.

    At 100 kN: u = sqrt(577.35² + 120² + 177.2² + 2.9²) = 615.8 N.
    """
    machine = given_machine(is_calibrated=False)
    record_calibration(
        machine=machine,
        certificate_number="K-SURE",
        laboratory="Invented Laboratory",
        accreditation_number="ACC 000",
        calibrated_date=date(2026, 1, 10),
        due_date=date(2027, 1, 9),
        machine_class="1",
        range_from_n=5_000,
        range_to_n=500_000,
        resolution_n=10,
        uncertainty_pct="0.24",
        coverage_factor="2",
        repeatability_pct="0.3",
        by=given_person(),
        at=MOMENT,
    )
    return machine
