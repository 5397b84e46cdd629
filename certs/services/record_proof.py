"""Records a proof-load test: peak, plateau and hold are found from the machine's log, never typed.

Where the proof load comes from is said by whoever asks for it (`certs.rules.proof_load`).
"""

from dataclasses import dataclass
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from certs.models import DecisionRule, ProofTest
from certs.queries.machine_support import NO_CALIBRATION, calibration_on, error_pct, problems_on
from certs.queries.splice_ceiling import HAND_SPLICE_TOLD, hand_splice_ceiling, has_hand_splice
from certs.rules.load_log import LoadLog
from certs.rules.load_plateau import Plateau
from certs.rules.load_trace import LoadFindings, analyse
from certs.rules.proof_test import Inspections, Requirement, judge_proof_test
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.test_evidence import (
    MOST_LINES_TOLD,
    CannotRecord,
    check_times,
    keep_test_log,
    read_test_log,
)
from inventory.models import Assembly, Person, TestingMachine
from inventory.rules.canonical import JsonValue
from inventory.services import journal, numbering
from inventory.services.guarded import add_row
from inventory.services.locks import lock_row

# Own decision: no standard read asks for a class. The error of the class is added to the load.
NEEDED_CLASS = "2"
LONGEST_HOLD_S = 86_400


@dataclass(frozen=True, slots=True)
class _Plateau:
    from_ms: int | None = None
    to_ms: int | None = None
    lowest_n: int | None = None


def record_proof_test(
    *,
    assembly: Assembly,
    machine: TestingMachine,
    tested_at: datetime,
    required_n: int,
    required_hold_s: int,
    rule: str,
    log: bytes,
    log_name: str,
    log_force_unit: str | None = None,
    log_time_unit: str | None = None,
    ceiling_n: int | None = None,
    before_is_good: bool,
    before_note: str,
    after_is_good: bool,
    after_note: str,
    decision_rule: DecisionRule | None = None,
    by: Person,
    at: datetime,
) -> ProofTest:
    """Record a proof load of `required_n` newtons held for `required_hold_s` seconds.

    `rule` names where the load comes from; `ceiling_n` is a load not to be passed, which hand
    splices have of themselves. The log is kept as it came. A test on a machine that could not
    support it is recorded with the reasons, and supports no certificate.

    Raises CannotRecord where a load or time cannot be; UnreadableLog or UnfitFile for the log.
    """
    require(by=by, act=ClaimAct.RECORD_PROOF_TEST)
    check_times(tested_at=tested_at, at=at, made_at=assembly.built_at, made="it was built")
    _check_required(required_n, hold_s=required_hold_s, ceiling_n=ceiling_n, rule=rule)
    # A long log takes its time: it is read and judged before anything is locked.
    readings = _readings(log, force_unit=log_force_unit, time_unit=log_time_unit)
    day = timezone.localdate(tested_at)
    calibration = calibration_on(machine, day=day)
    splice_n = hand_splice_ceiling(assembly)
    ceiling_n = min((n for n in (ceiling_n, splice_n) if n is not None), default=None)
    requirement = Requirement(
        required_n,
        required_hold_s,
        machine_q_pct=error_pct(calibration),
        ceiling_n=ceiling_n,
        needs_ceiling=has_hand_splice(assembly),
    )
    found = _findings(readings, requirement)
    verdict = judge_proof_test(
        requirement=requirement,
        findings=found,
        inspections=Inspections(before_ok=before_is_good, after_ok=after_is_good),
    )
    plateau = _milliseconds(found.plateau)
    with transaction.atomic():
        locked = lock_row(assembly)
        test = ProofTest(
            code=numbering.take_code(numbering.PROOF_TEST),
            assembly=locked,
            machine=machine,
            calibration=calibration,
            tested_at=tested_at,
            tested_by=by,
            required_n=required_n,
            required_hold_s=required_hold_s,
            ceiling_n=ceiling_n,
            rule=rule.strip(),
            log=keep_test_log(log, name=log_name, at=at),
            log_force_unit=readings.force_unit,
            log_time_unit=readings.time_unit,
            peak_n=found.peak_n,
            plateau_from_ms=plateau.from_ms,
            plateau_to_ms=plateau.to_ms,
            plateau_lowest_n=plateau.lowest_n,
            line_problems=_line_problems(readings),
            before_is_good=before_is_good,
            before_note=before_note.strip(),
            after_is_good=after_is_good,
            after_note=after_note.strip(),
            decision_rule=decision_rule,
            outcome=verdict.outcome.value,
            machine_problems=problems_on(
                calibration, day=day, forces_n=_relied_on(found), needed_class=NEEDED_CLASS
            ),
            reasons=[
                *verdict.findings,
                *([] if calibration else [NO_CALIBRATION]),
                *([] if splice_n is None else [HAND_SPLICE_TOLD]),
            ],
            recorded_at=at,
        )
        add_row(test, refusal=CannotRecord)
        _journal(test, by=by, at=at)
    return test


def _check_required(required_n: int, *, hold_s: int, ceiling_n: int | None, rule: str) -> None:
    if required_n <= 0:
        message = "The proof load must be above nought."
        raise CannotRecord(message, field="required_n")
    if not 0 <= hold_s <= LONGEST_HOLD_S:
        message = "The time to hold the load is counted in seconds, from none to a day."
        raise CannotRecord(message, field="required_hold_s")
    if ceiling_n is not None and ceiling_n < required_n:
        message = "The load not to be passed lies below the proof load; check both."
        raise CannotRecord(message, field="ceiling_n")
    if not rule.strip():
        message = "Name the standard, law or order that the proof load comes from."
        raise CannotRecord(message, field="rule")


def _readings(log: bytes, *, force_unit: str | None, time_unit: str | None) -> LoadLog:
    readings = read_test_log(log, force_unit=force_unit, time_unit=time_unit)
    if readings is None:
        message = "A proof-load test needs the force log of the testing machine."
        raise CannotRecord(message, field="log")
    if readings.samples[0].time_s < 0:
        message = "The clock of this log begins below nought; have the machine write from 0 on."
        raise CannotRecord(message, field="log")
    return readings


def _findings(readings: LoadLog, requirement: Requirement) -> LoadFindings:
    found = analyse(readings.samples, target_n=requirement.least_indicated_n)
    if found.peak_n <= 0:
        message = "This log shows no load above nought; hand in the log of this test."
        raise CannotRecord(message, field="log")
    return found


def _relied_on(found: LoadFindings) -> list[int]:
    """The forces that must lie in the verified range: the peak, and the lowest of the hold."""
    return [found.peak_n, *([found.plateau.lowest_n] if found.plateau else [])]


def _milliseconds(plateau: Plateau | None) -> _Plateau:
    if plateau is None:
        return _Plateau()
    return _Plateau(
        round(plateau.start_s * 1000), round(plateau.end_s * 1000), max(plateau.lowest_n, 0)
    )


def _line_problems(readings: LoadLog) -> list[dict[str, JsonValue]]:
    told: list[dict[str, JsonValue]] = [
        {"line": problem.line, "text": problem.text, "reason": problem.reason}
        for problem in readings.problems[:MOST_LINES_TOLD]
    ]
    more = readings.problems[MOST_LINES_TOLD:]
    if more:
        reason = f"{len(more)} more lines from here on were not used"
        told.append({"line": more[0].line, "text": "", "reason": reason})
    return told


def _journal(test: ProofTest, *, by: Person, at: datetime) -> None:
    calibration = test.calibration
    journal.append(
        at=at,
        by=by,
        act=ClaimAct.RECORD_PROOF_TEST.value,
        subject=test.code,
        detail={
            "assembly": test.assembly.code,
            "machine": test.machine.code,
            "calibration": calibration.certificate_number if calibration else "",
            "tested_at": test.tested_at.isoformat(),
            "required_n": test.required_n,
            "required_hold_s": test.required_hold_s,
            "ceiling_n": test.ceiling_n,
            "peak_n": test.peak_n,
            "plateau_lowest_n": test.plateau_lowest_n,
            "outcome": test.outcome,
            "machine_problems": len(test.machine_problems),
            "log_sha256": test.log.sha256,
        },
    )
