"""How uncertain a force is that a machine shows, by its calibration and its class on record.

The components and their sum are decided by the rules.
"""

from decimal import Decimal

from certs.queries.specification_rows import machine_class_rows
from certs.rules.force_budget import MachineKnowledge, force_budget
from certs.rules.machine import MachineClass, class_row
from certs.rules.uncertainty_budget import Budget
from inventory.models import Calibration


def budget_of(force_n: int, *, calibration: Calibration | None) -> Budget | None:
    """Give the budget of a force in N on a machine so calibrated.

    Without a calibration the class with the greatest error counts. None where no class is held at
    all, or the force is not above nought: then nothing can be said. Raises Refusal for a class
    that the table does not hold.
    """
    rows = machine_class_rows()
    if not rows or force_n <= 0:
        return None
    return force_budget(force_n, row=_row(calibration, rows), known=_known(calibration))


def _row(calibration: Calibration | None, rows: list[MachineClass]) -> MachineClass:
    if calibration is None:
        return max(rows, key=lambda row: row.q_pct)
    return class_row(calibration.machine_class, rows=rows)


def _known(calibration: Calibration | None) -> MachineKnowledge:
    if calibration is None:
        return MachineKnowledge("none")
    return MachineKnowledge(
        name=calibration.certificate_number,
        uncertainty_pct=_percent(calibration.uncertainty_pct),
        coverage_factor=_percent(calibration.coverage_factor),
        repeatability_pct=_percent(calibration.repeatability_pct),
        resolution_n=calibration.resolution_n,
    )


def _percent(text: str) -> Decimal | None:
    return Decimal(text) if text else None
