"""Records a proof-load test: peak, plateau and hold are found from the machine's log, never typed.

Where the proof load comes from is said by whoever asks for it (`certs.rules.proof_load`).
"""

from collections.abc import Mapping
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from certs.models import DecisionRule, ProofTest
from certs.queries.machine_support import NO_CALIBRATION, calibration_on, error_pct, problems_on
from certs.queries.specification_rows import machine_class_rows
from certs.queries.splice_ceiling import HAND_SPLICE_TOLD, hand_splice_ceiling, has_hand_splice
from certs.rules.derived import trimmed
from certs.rules.proof_requirement import Requirement
from certs.rules.proof_test import PROOF_CLASS, Inspections, ProofVerdict, judge_proof_test
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.decide_proof import decide_proof
from certs.services.measured_proof import (
    Gauge,
    extension_of,
    line_problems,
    measure_proof,
    read_proof_log,
)
from certs.services.test_evidence import CannotRecord, check_times, keep_test_log
from inventory.models import Assembly, Calibration, Person, TestingMachine
from inventory.rules.as_given import NOTHING_GIVEN, kept_as_given, still_true
from inventory.services import journal, numbering
from inventory.services.guarded import add_row
from inventory.services.locks import lock_row

LONGEST_HOLD_S = 86_400


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
    gauge_before_um: int | None = None,
    gauge_after_um: int | None = None,
    extension_limit_pct: str = "",
    decision_rule: DecisionRule | None = None,
    as_given: Mapping[str, str] = NOTHING_GIVEN,
    by: Person,
    at: datetime,
) -> ProofTest:
    """Record a proof load of `required_n` newtons held for `required_hold_s` seconds.

    `rule` names where the load comes from; `ceiling_n` is a load not to be passed, which hand
    splices have of themselves. The gauge lengths in μm are measured unloaded; the limit of what may
    stay, in per cent as text, is that of an order or a standard. `decision_rule` is the rule on
    uncertainty chosen before the test; `as_given` holds forces typed in another unit, by the names
    of these arguments. The log is kept as it came. A test on a machine that could
    not support it is recorded with the reasons, and supports no certificate.

    Raises CannotRecord where a load, length or time cannot be; CannotDecide for a rule chosen
    since or agreed with another; UnreadableLog or UnfitFile for the log.
    """
    require(by=by, act=ClaimAct.RECORD_PROOF_TEST)
    check_times(tested_at=tested_at, at=at, made_at=assembly.built_at, made="it was built")
    _check_required(required_n, hold_s=required_hold_s, ceiling_n=ceiling_n, rule=rule)
    figures = {
        "required_n": required_n,
        "ceiling_n": ceiling_n,
        "gauge_before_um": gauge_before_um,
        "gauge_after_um": gauge_after_um,
    }
    given = kept_as_given(as_given, figures)
    gauge = Gauge(gauge_before_um, gauge_after_um, extension_limit_pct)
    extension = extension_of(gauge)
    # A long log takes its time: it is read and judged before anything is locked.
    readings = read_proof_log(log, force_unit=log_force_unit, time_unit=log_time_unit)
    day = timezone.localdate(tested_at)
    calibration = calibration_on(machine, day=day)
    splice_n = hand_splice_ceiling(assembly)
    requirement = Requirement(
        required_n,
        required_hold_s,
        machine_q_pct=error_pct(calibration),
        ceiling_n=min((n for n in (ceiling_n, splice_n) if n is not None), default=None),
        needs_ceiling=has_hand_splice(assembly),
        classes=tuple(machine_class_rows()),
    )
    measured = measure_proof(readings, requirement)
    verdict = judge_proof_test(
        requirement=requirement,
        findings=measured.found,
        inspections=Inspections(before_ok=before_is_good, after_ok=after_is_good),
        extension=extension,
    )
    judged = decide_proof(
        measured,
        requirement=requirement,
        calibration=calibration,
        decision_rule=decision_rule,
        tested_at=tested_at,
        assembly=assembly,
    )
    hold = measured.hold
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
            ceiling_n=requirement.ceiling_n,
            rule=rule.strip(),
            log=keep_test_log(log, name=log_name, at=at),
            log_force_unit=readings.force_unit,
            log_time_unit=readings.time_unit,
            peak_n=measured.found.peak_n,
            plateau_from_ms=hold.from_ms,
            plateau_to_ms=hold.to_ms,
            plateau_lowest_n=hold.lowest_n,
            line_problems=line_problems(readings),
            before_is_good=before_is_good,
            before_note=before_note.strip(),
            after_is_good=after_is_good,
            after_note=after_note.strip(),
            gauge_before_um=gauge.before_um,
            gauge_after_um=gauge.after_um,
            extension_limit_pct=trimmed(extension.limit_pct)
            if extension and extension.limit_pct is not None
            else "",
            decision_rule=decision_rule,
            uncertainty=judged.uncertainty if judged else {},
            decision=judged.decision_json if judged else {},
            as_given=still_true(given, ceiling_n=(ceiling_n, requirement.ceiling_n)),
            outcome=verdict.outcome.value,
            machine_problems=problems_on(
                calibration, day=day, forces_n=measured.forces_n, needed_class=PROOF_CLASS
            ),
            reasons=_reasons(verdict, calibration, splice_n=splice_n),
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


def _reasons(
    verdict: ProofVerdict, calibration: Calibration | None, *, splice_n: int | None
) -> list[str]:
    return [
        *verdict.findings,
        *([] if calibration else [NO_CALIBRATION]),
        *([] if splice_n is None else [HAND_SPLICE_TOLD]),
    ]


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
            "gauge_before_um": test.gauge_before_um,
            "gauge_after_um": test.gauge_after_um,
            "decision_rule": test.decision_rule.code if test.decision_rule else "",
            "decision": str(test.decision.get("outcome", "")),
            "outcome": test.outcome,
            "machine_problems": len(test.machine_problems),
            "log_sha256": test.log.sha256,
        },
        rows=[test, test.log],
    )
