"""Which calibration a test rests on, and the error that its class allows."""

from datetime import date
from decimal import Decimal

import pytest

from certs.queries.machine_support import calibration_on, error_pct, problems_on
from inventory.rules.refusal import Refusal
from tests.factories import given_calibration, given_machine

pytestmark = pytest.mark.django_db


@pytest.fixture
def machine():
    return given_machine(is_calibrated=False)


def calibrate(machine, first: str, due: str, **said):
    return given_calibration(
        machine,
        calibrated_date=date.fromisoformat(first),
        due_date=date.fromisoformat(due),
        **said,
    )


@pytest.mark.parametrize(
    ("day", "which"),
    [
        pytest.param("2024-12-31", None, id="before the first"),
        pytest.param("2025-01-01", 0, id="on its day"),
        pytest.param("2025-06-30", 0, id="before the second"),
        pytest.param("2025-07-01", 1, id="on the second's day"),
        pytest.param("2027-01-01", 1, id="after all are due"),
    ],
)
def test_the_last_made_on_or_before_the_day(machine, day, which):
    made = [
        calibrate(machine, "2025-01-01", "2026-01-01"),
        calibrate(machine, "2025-07-01", "2026-07-01"),
    ]
    found = calibration_on(machine, day=date.fromisoformat(day))
    assert found == (None if which is None else made[which])


def test_another_machines_calibration_is_not_taken(machine):
    calibrate(given_machine(is_calibrated=False), "2025-01-01", "2026-01-01")
    assert calibration_on(machine, day=date(2025, 6, 1)) is None


def test_a_problem_is_told_once_though_several_forces_have_it(machine):
    overdue = calibrate(machine, "2025-01-01", "2025-02-01")
    problems = problems_on(
        overdue, day=date(2025, 3, 1), forces_n=[20_000, 30_000], needed_class="1"
    )
    assert len(problems) == 1


def test_each_force_outside_the_range_is_told(machine):
    calibration = calibrate(machine, "2025-01-01", "2026-01-01", range_from_n=25_000)
    problems = problems_on(
        calibration, day=date(2025, 3, 1), forces_n=[20_000, 30_000], needed_class="1"
    )
    assert len(problems) == 1
    assert "20000 N" in problems[0]


@pytest.mark.usefixtures("tables")
@pytest.mark.parametrize(("machine_class", "q_pct"), [("0.5", "0.5"), ("1", "1.0")])
def test_the_error_of_a_class_is_that_of_iso_7500_1(machine, machine_class, q_pct):
    calibration = calibrate(machine, "2025-01-01", "2026-01-01", machine_class=machine_class)
    assert error_pct(calibration) == Decimal(q_pct)


@pytest.mark.usefixtures("tables")
def test_without_a_calibration_the_greatest_error_is_taken():
    # Class 3 of ISO 7500-1, from memory as the file says.
    assert error_pct(None) == Decimal("3.0")


def test_without_the_table_a_class_has_no_error(machine):
    with pytest.raises(Refusal, match="No value held for machine class 1"):
        error_pct(calibrate(machine, "2025-01-01", "2026-01-01"))
