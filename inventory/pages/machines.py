"""Testing machines: the list, one machine with its calibrations, registering and calibrating."""

from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from inventory.models import Calibration
from inventory.pages.acting import deed, done, for_act, found, perform, signed_in, typed
from inventory.pages.facts import Fact, told
from inventory.pages.forms.holds import CalibrationForm, MachineForm
from inventory.pages.holds_table import table_of_holds
from inventory.pages.links import cell_of, href_of
from inventory.pages.reading import day, shown_force
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.table import Cell, Column, Line, Table, build_table
from inventory.queries import registers
from inventory.queries.holds import holds_on_machine
from inventory.queries.things import machine_of_code
from inventory.rules.as_given import beside
from inventory.rules.roles import Act
from inventory.services.machines import record_calibration, register_machine

_SORTS: Sorts = {
    "Machine": ("id",),
    "Name": ("name",),
    "Serial number": ("serial_number",),
    "Calibration": ("due",),
}


@signed_in
def machines(request: HttpRequest) -> HttpResponse:
    """List the testing machines."""
    today = timezone.localdate()
    return show_list(
        request,
        "inventory/machines.html",
        rows=registers.machines(),
        table=lambda listed: _table(listed, today=today),
        area="machines",
        noun="machines",
        sorts=_SORTS,
    )


@signed_in
def machine(request: HttpRequest, code: str) -> HttpResponse:
    """Show a testing machine."""
    shown = found(machine_of_code(code))
    calibrations = list(registers.calibrations_of(shown))
    holds = holds_on_machine(shown)
    due = max((calibration.due_date for calibration in calibrations), default=None)
    return show(
        request,
        "inventory/machine.html",
        area="machines",
        machine=shown,
        facts=told(
            Fact("Maker", shown.maker),
            Fact("Serial number", shown.serial_number),
            Fact("Registered", day(shown.registered_at)),
        ),
        state=_state(due, today=timezone.localdate()),
        calibrations=_calibrations(calibrations) if calibrations else None,
        holds=table_of_holds(holds) if holds else None,
    )


@for_act(Act.REGISTER_MACHINE)
def register(request: HttpRequest) -> HttpResponse:
    """Ask for a testing machine."""
    form = MachineForm(*typed(request))
    registered = perform(request, lambda: register_machine(**form.values, **deed(request)), form)
    if registered is not None:
        said = f"{registered.name} is registered as {registered.code}."
        return done(request, said, "inventory:machine", registered.code)
    return show(
        request,
        "inventory/register_machine.html",
        area="machines",
        form=form,
        submit="Register this machine",
        cancel=reverse("inventory:machines"),
    )


@for_act(Act.RECORD_CALIBRATION)
def calibrate(request: HttpRequest, code: str) -> HttpResponse:
    """Ask for a calibration certificate."""
    calibrated = found(machine_of_code(code))
    form = CalibrationForm(*typed(request))
    recorded = perform(
        request,
        lambda: record_calibration(machine=calibrated, **form.values, **deed(request)),
        form,
    )
    if recorded is not None:
        said = f"Calibration {recorded.certificate_number} is recorded."
        return done(request, said, "inventory:machine", code)
    return show(
        request,
        "inventory/record_calibration.html",
        area="machines",
        machine=calibrated,
        form=form,
        submit="Record this calibration",
        cancel=href_of(calibrated),
    )


def _state(due: date | None, *, today: date) -> Cell:
    if due is None:
        return Cell("never calibrated", shape="wait")
    if due < today:
        return Cell(f"calibration ended {day(due)}", shape="wait")
    return Cell(f"calibrated until {day(due)}", shape="good")


def _table(listed: list[Any], *, today: date) -> Table:
    return build_table(
        columns=("Machine", "Name", "Maker", "Serial number", "Calibration"),
        lines=(
            Line((cell_of(m), m.name, m.maker, m.serial_number, _state(m.due, today=today)))
            for m in listed
        ),
        folds=True,
    )


def _calibrations(calibrations: list[Calibration]) -> Table:
    return build_table(
        columns=(
            "Certificate",
            "Laboratory",
            "Accreditation",
            "Calibrated",
            "Due",
            "Class",
            Column("Verified from", is_number=True),
            Column("to", is_number=True),
            "Uncertainty",
            "Repeatability",
        ),
        lines=(
            Line(
                (
                    c.certificate_number,
                    c.laboratory,
                    c.accreditation_number,
                    day(c.calibrated_date),
                    day(c.due_date),
                    c.get_machine_class_display(),
                    beside(shown_force(c.range_from_n), c.as_given, "range_from_n"),
                    beside(shown_force(c.range_to_n), c.as_given, "range_to_n"),
                    _uncertainty(c),
                    f"{c.repeatability_pct} %" if c.repeatability_pct else "not stated",
                )
            )
            for c in calibrations
        ),
        folds=True,
    )


def _uncertainty(calibration: Calibration) -> str:
    if not calibration.uncertainty_pct:
        return "not stated"
    return f"U = {calibration.uncertainty_pct} %, k = {calibration.coverage_factor}"
