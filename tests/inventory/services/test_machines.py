from datetime import date, timedelta

import pytest

from inventory.services.machines import CannotRecordMachine, record_calibration, register_machine
from tests.factories import MOMENT, given_calibration, given_machine
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db

TODAY = MOMENT.date()


@pytest.fixture
def calibrate(bench_hand):
    def calibrate(machine, **facts):
        asked = {
            "certificate_number": " K-1 ",
            "laboratory": "Invented Laboratory",
            "accreditation_number": "",
            "calibrated_date": date(2026, 1, 10),
            "due_date": date(2027, 1, 9),
            "machine_class": "0.5",
            "range_from_n": 1_000,
            "range_to_n": 100_000,
            "resolution_n": 5,
        }
        return record_calibration(machine=machine, **(asked | facts), by=bench_hand, at=MOMENT)

    return calibrate


def test_a_machine_is_registered(qa_officer):
    machine = register_machine(
        name=" Bench ", maker="Invented Machines", serial_number=" 7 ", by=qa_officer, at=MOMENT
    )
    assert (machine.code, machine.name, machine.serial_number) == ("T-00001", "Bench", "7")
    assert last_entry() == ("register_machine", "T-00001", {"serial_number": "7"})


@pytest.mark.parametrize(
    ("name", "serial", "why"),
    [("", "1", "Name"), ("Bench", "", "Serial number"), ("Bench", "SN-1", "serial once")],
    ids=["no name", "no number", "twice"],
)
def test_an_unfit_machine_is_refused(qa_officer, name, serial, why):
    given_machine()
    with refuses(CannotRecordMachine, why):
        register_machine(
            name=name, maker="Invented Machines", serial_number=serial, by=qa_officer, at=MOMENT
        )


def test_a_calibration_keeps_class_range_and_dates(calibrate):
    machine = given_machine(is_calibrated=False)
    made = calibrate(machine)
    assert (made.certificate_number, made.machine_class, made.resolution_n) == ("K-1", "0.5", 5)
    assert machine.calibrations.get() == made
    act, subject, detail = last_entry()
    assert (act, subject, detail["class"]) == ("record_calibration", machine.code, "0.5")
    assert (detail["calibrated"], detail["due"]) == ("2026-01-10", "2027-01-09")
    assert "laboratory" not in detail


def test_today_is_the_day_of_the_house_not_of_greenwich(calibrate, settings):
    settings.TIME_ZONE = "Pacific/Pago_Pago"  # eleven hours behind: still the day before
    machine = given_machine(is_calibrated=False)
    with refuses(CannotRecordMachine, "in the future"):
        calibrate(machine, calibrated_date=TODAY)


UNFIT = {
    "of tomorrow": ({"calibrated_date": TODAY + timedelta(days=1)}, "in the future"),
    "due at once": ({"due_date": date(2026, 1, 10)}, "due after"),
    "due before": ({"due_date": date(2026, 1, 9)}, "due after"),
    "no range": ({"range_from_n": 100_000}, "smaller to a greater"),
    "negative range": ({"range_from_n": -1}, "smaller to a greater"),
    "no resolution": ({"resolution_n": 0}, "resolution"),
    "unknown class": ({"machine_class": "4"}, "Machine class"),
    "no number": ({"certificate_number": " "}, "Certificate number"),
    "no laboratory": ({"laboratory": " "}, "Laboratory"),
    "twice": ({"certificate_number": "CAL-1"}, "calibration certificate once"),
}


@pytest.mark.parametrize(("facts", "why"), list(UNFIT.values()), ids=UNFIT)
def test_an_unfit_calibration_is_refused(calibrate, facts, why):
    machine = given_machine(is_calibrated=False)
    given_calibration(machine)
    with refuses(CannotRecordMachine, why):
        calibrate(machine, **facts)


def test_a_calibration_of_today_without_a_resolution(calibrate):
    made = calibrate(given_machine(), calibrated_date=TODAY, resolution_n=None)
    assert (made.calibrated_date, made.resolution_n) == (TODAY, None)
