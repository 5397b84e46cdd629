"""Whether a testing machine, as calibrated, could support a test on its day.

It judges dates, range and class; the error that a class allows comes from rows of a table.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from certs.rules.derived import Source
from inventory.rules.refusal import Refusal

# From the best down (ISO 7500-1).
CLASSES: Final = ("0.5", "1", "2", "3")
# ASTM E4-16 clause 10: below this many steps of the reading a force is not verified.
LEAST_RESOLUTIONS: Final = 200


@dataclass(frozen=True, slots=True)
class Calibration:
    """The facts of one calibration certificate; forces in N, both dates included."""

    certificate_number: str
    laboratory: str
    accreditation_number: str
    calibrated_on: date
    due_on: date
    machine_class: str
    range_from_n: int
    range_to_n: int
    resolution_n: int | None = None


@dataclass(frozen=True, slots=True)
class MachineClass:
    """A row of the class table: the greatest errors that it allows, in per cent of the force.

    q is the error of the indication, b the difference of repeated readings, a the resolution;
    None where no value is held.
    """

    name: str
    q_pct: Decimal
    source: str
    confidence: str
    repeatability_pct: Decimal | None = None
    resolution_pct: Decimal | None = None


def support(
    *, calibration: Calibration | None, tested_on: date, peak_n: int, needed_class: str
) -> tuple[str, ...]:
    """Return why the machine cannot support a test; nothing when it can.

    `peak_n` is the force in N that is relied on. `needed_class` is the worst class that the test
    standard allows. Raises `Refusal` for a class that is none. ISO 7500-1; ASTM E4-16 clause 10.
    """
    if calibration is None:
        return ("No calibration of this machine is on record for that day.",)
    found = (
        _date_problem(calibration, tested_on),
        _range_problem(calibration, peak_n),
        _class_problem(calibration.machine_class, needed_class),
        _resolution_problem(calibration.resolution_n, peak_n),
    )
    return tuple(problem for problem in found if problem)


def class_row(name: str, *, rows: Iterable[MachineClass]) -> MachineClass:
    """Return the row of a class. Raises `Refusal` where the table has none."""
    for row in rows:
        if row.name == name:
            return row
    message = f"No value held for machine class {name}: enter it from your copy of the standard."
    raise Refusal(message, field="machine_class")


def column_source(row: MachineClass, column: str) -> Source:
    """Say where one figure of a class comes from: its words may tell columns apart.

    Such as "q read; others memory".
    """
    confidence = row.confidence
    for part in row.confidence.split(";"):
        named, _, mark = part.strip().partition(" ")
        if mark and named in (column, "others"):
            confidence = mark
            break
    return Source(f"{row.source}, class {row.name}", confidence=confidence)


def _date_problem(calibration: Calibration, tested_on: date) -> str:
    number = calibration.certificate_number
    if tested_on < calibration.calibrated_on:
        return (
            f"Tested on {tested_on}, before the calibration {number} of"
            f" {calibration.calibrated_on}."
        )
    if tested_on > calibration.due_on:
        return f"Tested on {tested_on}; the calibration {number} was due on {calibration.due_on}."
    return ""


def _range_problem(calibration: Calibration, peak_n: int) -> str:
    if calibration.range_from_n <= peak_n <= calibration.range_to_n:
        return ""
    return (
        f"The force of {peak_n} N is outside the verified range of"
        f" {calibration.range_from_n} N to {calibration.range_to_n} N."
    )


def _class_problem(machine_class: str, needed_class: str) -> str:
    if _rank(machine_class) <= _rank(needed_class):
        return ""
    return f"The machine is of class {machine_class}; class {needed_class} or better is needed."


def _rank(name: str) -> int:
    if name not in CLASSES:
        message = f"“{name}” is no class of testing machine; the classes are {', '.join(CLASSES)}."
        raise Refusal(message, field="machine_class")
    return CLASSES.index(name)


def _resolution_problem(resolution_n: int | None, peak_n: int) -> str:
    if resolution_n is None or peak_n >= LEAST_RESOLUTIONS * resolution_n:
        return ""
    return (
        f"The force of {peak_n} N is less than {LEAST_RESOLUTIONS} times the resolution of"
        f" {resolution_n} N (ASTM E4)."
    )
