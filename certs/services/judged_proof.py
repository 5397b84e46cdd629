"""Judges a proof load from its log: what is asked for, what the log shows, the verdict of that day.

It changes nothing, so that a test can be looked at before it is recorded. `record_proof` keeps what
is found here, and nothing else.
"""

from dataclasses import dataclass
from datetime import datetime

from django.utils import timezone

from certs.models import DecisionRule
from certs.queries.machine_support import NO_CALIBRATION, calibration_on, error_pct, problems_on
from certs.queries.specification_rows import machine_class_rows
from certs.queries.splice_ceiling import HAND_SPLICE_TOLD, hand_splice_ceiling, has_hand_splice
from certs.rules.load_log import LoadLog
from certs.rules.permanent_extension import PermanentExtension
from certs.rules.proof_requirement import Requirement
from certs.rules.proof_test import PROOF_CLASS, Inspections, ProofVerdict, judge_proof_test
from certs.services.decide import Judged
from certs.services.decide_proof import decide_proof
from certs.services.measured_proof import MeasuredProof, measure_proof
from certs.services.test_evidence import CannotRecord
from inventory.models import Assembly, Calibration, TestingMachine

LONGEST_HOLD_S = 86_400


@dataclass(frozen=True, slots=True)
class ProofAsked:
    """What a proof load is judged by: forces in N, the time to hold in s.

    `inspections` are those before and after the load, `extension` is what stayed of it.
    """

    assembly: Assembly
    machine: TestingMachine
    tested_at: datetime
    required_n: int
    required_hold_s: int
    ceiling_n: int | None
    decision_rule: DecisionRule | None
    inspections: Inspections
    extension: PermanentExtension | None


@dataclass(frozen=True, slots=True)
class JudgedProof:
    """What the log shows against what was asked, and what is said of it."""

    calibration: Calibration | None
    requirement: Requirement
    measured: MeasuredProof
    verdict: ProofVerdict
    judged: Judged | None
    machine_problems: list[str]
    reasons: list[str]


def judge_proof(readings: LoadLog, asked: ProofAsked) -> JudgedProof:
    """Judge a proof load.

    Raises CannotRecord where the log shows no load; CannotDecide for a rule chosen since or agreed
    with another.
    """
    day = timezone.localdate(asked.tested_at)
    calibration = calibration_on(asked.machine, day=day)
    splice_n = hand_splice_ceiling(asked.assembly)
    requirement = Requirement(
        asked.required_n,
        asked.required_hold_s,
        machine_q_pct=error_pct(calibration),
        ceiling_n=min((n for n in (asked.ceiling_n, splice_n) if n is not None), default=None),
        needs_ceiling=has_hand_splice(asked.assembly),
        classes=tuple(machine_class_rows()),
    )
    measured = measure_proof(readings, requirement)
    verdict = judge_proof_test(
        requirement=requirement,
        findings=measured.found,
        inspections=asked.inspections,
        extension=asked.extension,
    )
    judged = decide_proof(
        measured,
        requirement=requirement,
        calibration=calibration,
        decision_rule=asked.decision_rule,
        tested_at=asked.tested_at,
        assembly=asked.assembly,
    )
    return JudgedProof(
        calibration=calibration,
        requirement=requirement,
        measured=measured,
        verdict=verdict,
        judged=judged,
        machine_problems=problems_on(
            calibration, day=day, forces_n=measured.forces_n, needed_class=PROOF_CLASS
        ),
        reasons=_reasons(verdict, calibration, splice_n=splice_n),
    )


def check_required(required_n: int, *, hold_s: int, ceiling_n: int | None) -> None:
    """Refuse a load or a time that cannot be asked for. Raises CannotRecord."""
    if required_n <= 0:
        message = "The proof load must be above nought."
        raise CannotRecord(message, field="required_n")
    if not 0 <= hold_s <= LONGEST_HOLD_S:
        message = "The time to hold the load is counted in seconds, from none to a day."
        raise CannotRecord(message, field="required_hold_s")
    if ceiling_n is not None and ceiling_n < required_n:
        message = "The load not to be passed lies below the proof load; check both."
        raise CannotRecord(message, field="ceiling_n")


def _reasons(
    verdict: ProofVerdict, calibration: Calibration | None, *, splice_n: int | None
) -> list[str]:
    return [
        *verdict.findings,
        *([] if calibration else [NO_CALIBRATION]),
        *([] if splice_n is None else [HAND_SPLICE_TOLD]),
    ]
