"""Plays the test bench: machines and their calibrations, samples and their breaking forces."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from certs.management.demo.invented import force_log
from certs.management.demo.stage import Stage
from certs.models import BreakingTest, DecisionRule
from certs.services.record_tests import record_breaking_test
from inventory.models import CutPiece
from inventory.services.cut import cut_piece
from inventory.services.machines import record_calibration, register_machine

LABORATORY = "Plumb & Datum Calibrations (invented)"


@dataclass(frozen=True, slots=True)
class Machine:
    """A testing machine, with the one calibration on record; forces in N, U in per cent at k = 2.

    Where the certificate states no uncertainty, none is entered.
    """

    key: str
    name: str
    serial: str
    calibrated: date
    due: date
    range_from_n: int
    range_to_n: int
    resolution_n: int
    uncertainty_pct: str = ""
    repeatability_pct: str = ""


MACHINES = (
    Machine(
        "proof",
        "Proof bench 1",
        "PB-0412",
        date(2026, 3, 17),
        date(2027, 3, 16),
        2_000,
        400_000,
        10,
        uncertainty_pct="0.24",
        repeatability_pct="0.35",
    ),
    Machine(
        "tensile",
        "Tensile machine",
        "TM-1987",
        date(2026, 2, 3),
        date(2027, 2, 2),
        5_000,
        600_000,
        20,
        uncertainty_pct="0.20",
        repeatability_pct="0.3",
    ),
    Machine(
        "old", "Proof bench 2", "PB-0077", date(2025, 9, 15), date(2026, 9, 14), 2_000, 250_000, 10
    ),
)


def set_up_machines(stage: Stage) -> None:
    """Register the machines; the calibration of one falls due in the course of the scenario."""
    for one in MACHINES:
        machine = register_machine(
            name=one.name,
            maker="Girder & Gauge (invented)",
            serial_number=one.serial,
            by=stage.people["qa"],
            at=stage.calendar.moment(),
        )
        record_calibration(
            machine=machine,
            certificate_number=f"PD-{one.calibrated:%y}-{one.serial[-3:]}",
            laboratory=LABORATORY,
            accreditation_number="invented",
            calibrated_date=one.calibrated,
            due_date=one.due,
            machine_class="1",
            range_from_n=one.range_from_n,
            range_to_n=one.range_to_n,
            resolution_n=one.resolution_n,
            uncertainty_pct=one.uncertainty_pct,
            coverage_factor="2" if one.uncertainty_pct else "",
            repeatability_pct=one.repeatability_pct,
            by=stage.people["qa"],
            at=stage.calendar.moment(),
        )
        stage.machines[one.key] = machine


def sample(stage: Stage, reel: str, *, length_mm: int) -> CutPiece:
    """Cut a sample from the free end of a reel."""
    return cut_piece(
        reel=stage.reels[reel],
        from_mm=None,
        length_mm=length_mm,
        purpose=CutPiece.Purpose.SAMPLE,
        note="for the breaking-force test",
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )


def break_sample(  # noqa: PLR0913 -- an act is told all its facts, each by name
    stage: Stage,
    reel: str,
    *,
    log_name: str = "",
    peak_n: int | None = None,
    break_distance_mm: int | None = None,
    note: str = "",
    decision_rule: DecisionRule | None = None,
    retest_of: BreakingTest | None = None,
    **said: Any,  # noqa: ANN401 -- what the service takes besides
) -> BreakingTest:
    """Cut a sample of a reel and break it; the peak is in the log, or read from the dial in N."""
    piece = sample(stage, reel, length_mm=1500)
    return record_breaking_test(
        sample=piece,
        machine=stage.machines["tensile"],
        tested_at=stage.calendar.moment(),
        peak_n=peak_n,
        log=force_log(log_name) if log_name else None,
        log_name=log_name,
        break_distance_mm=break_distance_mm,
        free_length_mm=800,
        temperature_c=21,
        note=note,
        decision_rule=decision_rule,
        retest_of=retest_of,
        **said,
        by=stage.people["bench"],
        at=stage.calendar.moment(),
    )


def break_first_samples(stage: Stage, *, agreed: DecisionRule) -> dict[str, BreakingTest]:
    """Break samples of the first load: passes, one of them near a grip, and one that says nothing.

    The last is repeated on another sample, as the standard asks. The first is judged by the rule
    that was agreed with the customer who asked for it.
    """
    tests = {
        "12 mm": break_sample(
            stage,
            "V-909",
            log_name="break_12mm.csv",
            decision_rule=agreed,
            free_length_asked_mm=750,
            free_length_source="purchase order of the customer (invented)",
        ),
        "8 mm": break_sample(stage, "K-2231", peak_n=42_600),
        "4 mm": break_sample(stage, "OR-5501", peak_n=13_900, break_distance_mm=15),
        "13 mm in the grip": break_sample(
            stage, "K-2241", peak_n=112_400, break_distance_mm=30, note="slipped, then broke"
        ),
    }
    slipped = tests["13 mm in the grip"]
    # Hurried for a few seconds, which its log shows.
    again = break_sample(stage, "K-2241", log_name="break_13mm_hurried.csv", retest_of=slipped)
    return {**tests, "13 mm": again}


def break_a_weak_sample(stage: Stage) -> BreakingTest:
    """Break a sample of a reel below what is required: the reel is de-rated."""
    return break_sample(
        stage, "K-2233", log_name="break_10mm_low.csv", note="after a complaint of a customer"
    )
