"""Decides how the machine of a test is told: which one, and the calibration that counted."""

from certs.pages.addresses import page_of
from inventory.models import Calibration, TestingMachine
from inventory.pages.facts import Fact
from inventory.pages.reading import shown_force


def machine_told(machine: TestingMachine, calibration: Calibration | None) -> list[Fact]:
    """Tell a machine and its calibration on the day of the test."""
    which = Fact("Testing machine", str(machine), href=page_of(machine.code))
    if calibration is None:
        return [which, Fact("Calibration", "none on record for that day", shape="wait")]
    return [
        which,
        Fact(
            "Calibration",
            calibration.certificate_number,
            note=f"{calibration.laboratory} {calibration.accreditation_number}".strip(),
        ),
        Fact("Calibrated", f"{calibration.calibrated_date} to {calibration.due_date}"),
        Fact("Class", calibration.get_machine_class_display(), note="ISO 7500-1"),
        Fact(
            "Verified range",
            f"{shown_force(calibration.range_from_n)} to {shown_force(calibration.range_to_n)}",
        ),
    ]
