"""Records a proof-load test: peak, plateau and hold are found from the machine's log, never typed.

Where the proof load comes from is said by whoever asks for it (`certs.rules.proof_load`).
"""

from collections.abc import Mapping
from datetime import datetime

from django.db import transaction

from certs.models import DecisionRule, ProofTest
from certs.rules.derived import trimmed
from certs.rules.proof_test import Inspections
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.judged_proof import ProofAsked, check_required, judge_proof
from certs.services.measured_proof import Gauge, extension_of, line_problems, read_proof_log
from certs.services.test_evidence import CannotRecord, check_times, keep_test_log
from inventory.models import Assembly, Person, TestingMachine
from inventory.rules.as_given import NOTHING_GIVEN, kept_as_given, still_true
from inventory.services import journal, numbering
from inventory.services.guarded import add_row
from inventory.services.locks import lock_row


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
    check_required(required_n, hold_s=required_hold_s, ceiling_n=ceiling_n)
    _check_rule(rule)
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
    seen = judge_proof(
        readings,
        ProofAsked(
            assembly=assembly,
            machine=machine,
            tested_at=tested_at,
            required_n=required_n,
            required_hold_s=required_hold_s,
            ceiling_n=ceiling_n,
            decision_rule=decision_rule,
            inspections=Inspections(before_ok=before_is_good, after_ok=after_is_good),
            extension=extension,
        ),
    )
    measured, judged = seen.measured, seen.judged
    hold = measured.hold
    with transaction.atomic():
        locked = lock_row(assembly)
        test = ProofTest(
            code=numbering.take_code(numbering.PROOF_TEST),
            assembly=locked,
            machine=machine,
            calibration=seen.calibration,
            tested_at=tested_at,
            tested_by=by,
            required_n=required_n,
            required_hold_s=required_hold_s,
            ceiling_n=seen.requirement.ceiling_n,
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
            as_given=still_true(given, ceiling_n=(ceiling_n, seen.requirement.ceiling_n)),
            outcome=seen.verdict.outcome.value,
            machine_problems=seen.machine_problems,
            reasons=seen.reasons,
            recorded_at=at,
        )
        add_row(test, refusal=CannotRecord)
        _journal(test, by=by, at=at)
    return test


def _check_rule(rule: str) -> None:
    if not rule.strip():
        message = "Name the standard, law or order that the proof load comes from."
        raise CannotRecord(message, field="rule")


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
