"""Registers testing machines and records their calibrations.

Whether a calibration can support a test is a claim and decided elsewhere.
"""

from collections.abc import Mapping
from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from inventory.models import Calibration, Person, TestingMachine
from inventory.rules.as_given import NOTHING_GIVEN, kept_as_given
from inventory.rules.calibration_figures import CalibrationFigures
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.services import journal, numbering
from inventory.services.authority import require
from inventory.services.guarded import add_row
from inventory.services.locks import lock_row


class CannotRecordMachine(Refusal):
    """A testing machine or its calibration cannot be recorded."""


def register_machine(
    *, name: str, maker: str, serial_number: str, by: Person, at: datetime
) -> TestingMachine:
    """Register a tensile testing machine or a proof-load bench.

    Raises:
        CannotRecordMachine: a field is empty, or the machine is registered already.
    """
    require(by=by, act=Act.REGISTER_MACHINE)
    with transaction.atomic():
        machine = TestingMachine(
            code=numbering.take_code(numbering.TESTING_MACHINE),
            name=name.strip(),
            maker=maker.strip(),
            serial_number=serial_number.strip(),
            registered_at=at,
        )
        add_row(machine, refusal=CannotRecordMachine)
        journal.append(
            at=at,
            by=by,
            act=Act.REGISTER_MACHINE.value,
            subject=machine.code,
            detail={"serial_number": machine.serial_number},
            rows=[machine],
        )
    return machine


def record_calibration(
    *,
    machine: TestingMachine,
    certificate_number: str,
    laboratory: str,
    accreditation_number: str,
    calibrated_date: date,
    due_date: date,
    machine_class: str,
    range_from_n: int,
    range_to_n: int,
    resolution_n: int | None,
    as_given: Mapping[str, str] = NOTHING_GIVEN,
    uncertainty_pct: str = "",
    coverage_factor: str = "",
    repeatability_pct: str = "",
    by: Person,
    at: datetime,
) -> Calibration:
    """Record a calibration: class (ISO 7500-1) and verified range of force in N.

    Expanded uncertainty and repeatability (the greatest difference of three series) are in per
    cent of the force, as text; empty where the certificate does not state them.

    Raises:
        NoFigure: one of these cannot be, or an uncertainty comes without its coverage factor.
        CannotRecordMachine: dates or range out of order, a date in the future, an unknown class,
            an empty field, or a certificate recorded already.
    """
    require(by=by, act=Act.RECORD_CALIBRATION)
    _check_dates(calibrated_date=calibrated_date, due_date=due_date, today=timezone.localdate(at))
    _check_range(range_from_n=range_from_n, range_to_n=range_to_n, resolution_n=resolution_n)
    figures = CalibrationFigures.read(
        uncertainty_pct=uncertainty_pct,
        coverage_factor=coverage_factor,
        repeatability_pct=repeatability_pct,
    )
    forces = {
        "range_from_n": range_from_n,
        "range_to_n": range_to_n,
        "resolution_n": resolution_n,
    }
    kept = kept_as_given(as_given, forces)
    with transaction.atomic():
        locked = lock_row(machine)
        calibration = Calibration(
            machine=locked,
            certificate_number=certificate_number.strip(),
            laboratory=laboratory.strip(),
            accreditation_number=accreditation_number.strip(),
            calibrated_date=calibrated_date,
            due_date=due_date,
            machine_class=machine_class,
            range_from_n=range_from_n,
            range_to_n=range_to_n,
            resolution_n=resolution_n,
            uncertainty_pct=figures.uncertainty_pct,
            coverage_factor=figures.coverage_factor,
            repeatability_pct=figures.repeatability_pct,
            as_given=kept,
            recorded_at=at,
            recorded_by=by,
        )
        add_row(calibration, refusal=CannotRecordMachine)
        journal.append(
            at=at,
            by=by,
            act=Act.RECORD_CALIBRATION.value,
            subject=locked.code,
            detail={
                "certificate_number": calibration.certificate_number,
                "calibrated": calibrated_date.isoformat(),
                "due": due_date.isoformat(),
                "class": machine_class,
                "range_from_n": range_from_n,
                "range_to_n": range_to_n,
                "resolution_n": resolution_n,
                "uncertainty_pct": figures.uncertainty_pct,
                "coverage_factor": figures.coverage_factor,
                "repeatability_pct": figures.repeatability_pct,
            },
            rows=[calibration],
        )
    return calibration


def _check_dates(*, calibrated_date: date, due_date: date, today: date) -> None:
    if calibrated_date > today:
        message = "The calibration is dated in the future; check its date."
        raise CannotRecordMachine(message, field="calibrated_date")
    if due_date <= calibrated_date:
        message = "The next calibration is due after this one; check both dates."
        raise CannotRecordMachine(message, field="due_date")


def _check_range(*, range_from_n: int, range_to_n: int, resolution_n: int | None) -> None:
    if not 0 <= range_from_n < range_to_n:
        message = "The verified range runs from a smaller to a greater force; check both ends."
        raise CannotRecordMachine(message, field="range_to_n")
    if resolution_n is not None and resolution_n <= 0:
        message = "The resolution is more than nothing; leave it empty if it is not known."
        raise CannotRecordMachine(message, field="resolution_n")
