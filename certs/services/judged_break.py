"""Judges a breaking-force test: the greatest force, how it was reached, the verdict of that day.

It changes nothing, so that a test can be looked at before it is recorded. `record_breaking` keeps
what is found here, and nothing else.
"""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.utils import timezone

from certs.models import DecisionRule
from certs.queries.derivation import required_force
from certs.queries.machine_support import calibration_on, problems_on
from certs.rules.breaking_conditions import Conditions, FreeLengthAsked
from certs.rules.breaking_force import whole_newtons
from certs.rules.breaking_test import Verdict, judge_breaking_test
from certs.rules.load_log import LoadLog
from certs.services.decide import Judged, decide_force
from certs.services.measured_break import MeasuredBreak, measure_break
from inventory.models import Calibration, Reel, TestingMachine

# ISO 3108 asks for a machine of class 1 (from memory, not seen).
NEEDED_CLASS = "1"


@dataclass(frozen=True, slots=True)
class BreakAsked:
    """What a break is judged by: the peak in N if it was typed, lengths in mm, the rest as read."""

    machine: TestingMachine
    tested_at: datetime
    peak_n: int | None
    break_distance_mm: int | None
    is_break_place_known: bool
    free_length_mm: int | None
    asked: FreeLengthAsked | None
    temperature_c: int | None
    decision_rule: DecisionRule | None


@dataclass(frozen=True, slots=True)
class JudgedBreak:
    """What was measured against the force required of the reel, and what is said of it."""

    required_n: int
    calibration: Calibration | None
    measured: MeasuredBreak
    verdict: Verdict
    judged: Judged
    machine_problems: list[str]
    reasons: list[str]


def judge_break(readings: LoadLog | None, asked: BreakAsked, *, reel: Reel) -> JudgedBreak:
    """Judge a break of rope of a reel.

    Raises CannotRecord where there is neither peak nor log or the log shows no load; CannotDecide
    for a rule chosen since; NoBasis where no basis is named for the reel.
    """
    required_n = whole_newtons(required_force(reel))
    measured = measure_break(readings, peak_n=asked.peak_n, required_n=required_n)
    temperature = asked.temperature_c
    verdict = judge_breaking_test(
        peak_n=measured.peak_n,
        required_n=required_n,
        break_distance_mm=asked.break_distance_mm,
        diameter_nm=reel.diameter_nm,
        is_place_known=asked.is_break_place_known,
        conditions=Conditions(
            temperature_c=None if temperature is None else Decimal(temperature),
            free_length_mm=asked.free_length_mm,
            loading=measured.loading,
            asked=asked.asked,
        ),
    )
    day = timezone.localdate(asked.tested_at)
    calibration = calibration_on(asked.machine, day=day)
    judged = decide_force(
        measured_n=measured.peak_n,
        required_n=required_n,
        calibration=calibration,
        decision_rule=asked.decision_rule,
        tested_at=asked.tested_at,
    )
    return JudgedBreak(
        required_n=required_n,
        calibration=calibration,
        measured=measured,
        verdict=verdict,
        judged=judged,
        machine_problems=problems_on(
            calibration, day=day, forces_n=[measured.peak_n], needed_class=NEEDED_CLASS
        ),
        reasons=[f"{verdict.reason} ({verdict.source})", *verdict.deviations, *measured.notes],
    )
