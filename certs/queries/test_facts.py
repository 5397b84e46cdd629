"""States the facts of tests as they go into a snapshot: JSON without floats."""

from typing import Any

from certs.models import BreakingTest, ProofTest
from certs.queries.proof_facts import bounds_facts, extension_facts
from certs.rules.load_log import LoadLog, read_log
from certs.rules.load_trace import thin
from certs.rules.loading_rate import loading_of
from inventory.models import Calibration, StoredFile, TestingMachine
from inventory.queries.kept_files import read_file

Facts = dict[str, Any]
CURVE_POINTS = 240


def proof_test_facts(test: ProofTest) -> Facts:
    """State a proof-load test with its machine, calibration and curve."""
    return {
        "code": test.code,
        "outcome": test.outcome,
        "outcome_text": test.get_outcome_display(),
        "tested_at": test.tested_at.isoformat(),
        "tested_by": str(test.tested_by),
        "required_n": test.required_n,
        "required_hold_s": test.required_hold_s,
        "ceiling_n": test.ceiling_n,
        "rule": test.rule,
        "peak_n": test.peak_n,
        "as_given": dict(test.as_given),
        "plateau": _plateau(test),
        "before": _inspection(is_good=test.before_is_good, note=test.before_note),
        "after": _inspection(is_good=test.after_is_good, note=test.after_note),
        "to_show": bounds_facts(test),
        "extension": extension_facts(test),
        "machine": machine_facts(test.machine, test.calibration),
        "reasons": list(test.reasons),
        "uncertainty": dict(test.uncertainty),
        "decision": dict(test.decision),
        "log": _log(test.log),
        "curve": curve_of(_readings(test, test.log)),
    }


def breaking_test_facts(test: BreakingTest) -> Facts:
    """State a breaking-force test with its sample, machine and calibration."""
    sample = test.sample
    readings = _readings(test, test.log) if test.log else None
    return {
        "code": test.code,
        "outcome": test.outcome,
        "outcome_text": test.get_outcome_display(),
        "tested_at": test.tested_at.isoformat(),
        "tested_by": str(test.tested_by),
        "sample": sample.code,
        "reel": sample.reel.code,
        "designation": sample.reel.designation,
        "from_mm": sample.from_mm,
        "to_mm": sample.to_mm,
        "required_n": test.required_n,
        "peak_n": test.peak_n,
        "as_given": dict(test.as_given),
        "break_words": _break_words(test),
        "retest_of": test.retest_of.code if test.retest_of else "",
        "free_length": f"{test.free_length_mm} mm" if test.free_length_mm else "not recorded",
        "free_length_asked": _free_length_asked(test),
        "machine": machine_facts(test.machine, test.calibration),
        "reasons": list(test.reasons),
        "uncertainty": dict(test.uncertainty),
        "decision": dict(test.decision),
        "log": _log(test.log) if test.log else None,
        "loading": readings and _loading(test, readings),
        "curve": curve_of(readings) if readings else [],
    }


def loading_on_record(test: BreakingTest) -> Facts | None:
    """State how a sample was loaded, from the kept log; None where there is none."""
    return _loading(test, _readings(test, test.log)) if test.log else None


def machine_facts(machine: TestingMachine, calibration: Calibration | None) -> Facts:
    """State a machine and the calibration that covered the test: later edits change nothing."""
    return {
        "code": machine.code,
        "name": machine.name,
        "serial_number": machine.serial_number,
        "calibration": calibration
        and {
            "certificate_number": calibration.certificate_number,
            "laboratory": calibration.laboratory,
            "accreditation_number": calibration.accreditation_number,
            "calibrated_date": calibration.calibrated_date.isoformat(),
            "due_date": calibration.due_date.isoformat(),
            "machine_class": calibration.machine_class,
            "range_from_n": calibration.range_from_n,
            "range_to_n": calibration.range_to_n,
        },
    }


def _plateau(test: ProofTest) -> Facts | None:
    if test.plateau_from_ms is None or test.plateau_to_ms is None:
        return None
    return {
        "from_ms": test.plateau_from_ms,
        "to_ms": test.plateau_to_ms,
        "hold_ms": test.plateau_to_ms - test.plateau_from_ms,
        "lowest_n": test.plateau_lowest_n,
    }


def _inspection(*, is_good: bool, note: str) -> str:
    found = "no fault found" if is_good else "fault found"
    return f"{found}: {note}" if note else found


def _log(log: StoredFile) -> Facts:
    return {"name": log.name, "sha256": log.sha256}


def _loading(test: BreakingTest, readings: LoadLog) -> Facts:
    return loading_of(readings.samples, required_n=test.required_n).as_json()


def _readings(test: BreakingTest | ProofTest, log: StoredFile) -> LoadLog:
    """Read the kept log of a test, in the units that were given with it."""
    units = {"force_unit": test.log_force_unit or None, "time_unit": test.log_time_unit or None}
    return read_log(read_file(log), **units)


def curve_of(read: LoadLog) -> list[list[int]]:
    """Give the log in whole milliseconds and newtons, thinned with every extreme kept."""
    samples = thin(read.samples, CURVE_POINTS)
    return [[round(s.time_s * 1000), round(s.force_n)] for s in samples]


def _free_length_asked(test: BreakingTest) -> str:
    asked_mm = test.free_length_asked_mm
    return "" if asked_mm is None else f"{asked_mm} mm ({test.free_length_source})"


def _break_words(test: BreakingTest) -> str:
    if not test.is_break_place_known:
        return "not recorded: nobody wrote down where it broke"
    if test.break_distance_mm is None:
        return "in the clear length"
    return f"{test.break_distance_mm} mm from the nearest grip or termination"
