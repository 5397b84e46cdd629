"""Which calibration a testing machine had on a day, and what it could not support on that day.

Whether a date, a force or a class fits is judged by the rules.
"""

from collections.abc import Iterable
from datetime import date
from decimal import Decimal

from certs.queries.specification_rows import machine_class_rows
from certs.rules import machine
from inventory.models import Calibration, TestingMachine

# Own decision: a test without a calibration is judged with the greatest error the table has.
NO_CALIBRATION = "No calibration: the greatest error of any class is assumed."


def calibration_on(testing_machine: TestingMachine, *, day: date) -> Calibration | None:
    """Give the last calibration made on or before a day, be it overdue on that day or not."""
    made = testing_machine.calibrations.filter(calibrated_date__lte=day)
    return made.order_by("-calibrated_date", "-id").first()


def problems_on(
    calibration: Calibration | None, *, day: date, forces_n: Iterable[int], needed_class: str
) -> list[str]:
    """Say why the machine cannot support a test in which these forces (N) are relied on."""
    facts = _facts(calibration) if calibration else None
    found = (
        problem
        for force_n in forces_n
        for problem in machine.support(
            calibration=facts, tested_on=day, peak_n=force_n, needed_class=needed_class
        )
    )
    return list(dict.fromkeys(found))


def class_of(calibration: Calibration | None) -> machine.MachineClass | None:
    """Give the class (ISO 7500-1) that counts for a machine so calibrated.

    Without a calibration that with the greatest error; None where no class is held at all. Raises
    Refusal where the table holds no value for the class.
    """
    rows = machine_class_rows()
    if calibration is None:
        return max(rows, key=lambda row: row.q_pct, default=None)
    return machine.class_row(calibration.machine_class, rows=rows)


def error_pct(calibration: Calibration | None) -> Decimal:
    """Give the relative error q in per cent that the machine's class allows (ISO 7500-1).

    Raises Refusal where the table holds no value for the class.
    """
    row = class_of(calibration)
    return Decimal(0) if row is None else row.q_pct


def _facts(calibration: Calibration) -> machine.Calibration:
    return machine.Calibration(
        certificate_number=calibration.certificate_number,
        laboratory=calibration.laboratory,
        accreditation_number=calibration.accreditation_number,
        calibrated_on=calibration.calibrated_date,
        due_on=calibration.due_date,
        machine_class=calibration.machine_class,
        range_from_n=calibration.range_from_n,
        range_to_n=calibration.range_to_n,
        resolution_n=calibration.resolution_n,
    )
