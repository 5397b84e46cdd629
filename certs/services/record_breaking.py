"""Records a breaking-force test: what was measured, on which machine, and the verdict of that day.

The facts are never changed afterwards. What a failure means for the reel is decided by
`certs.queries.derivation`.
"""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from certs.models import BreakingTest, DecisionRule
from certs.rules.breaking_conditions import FreeLengthAsked
from certs.rules.broken_piece import check_broken_piece
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.judged_break import BreakAsked, judge_break
from certs.services.retest import tie_retest
from certs.services.test_evidence import (
    CannotRecord,
    check_times,
    keep_test_log,
    read_test_log,
)
from inventory.models import CutPiece, Person, TestingMachine
from inventory.rules.as_given import NOTHING_GIVEN, kept_as_given, still_true
from inventory.rules.refusal import Refusal
from inventory.services import journal, numbering
from inventory.services.guarded import add_row
from inventory.services.locks import lock_row


def record_breaking_test(
    *,
    sample: CutPiece,
    machine: TestingMachine,
    tested_at: datetime,
    peak_n: int | None,
    log: bytes | None,
    log_name: str = "",
    log_force_unit: str | None = None,
    log_time_unit: str | None = None,
    break_distance_mm: int | None = None,
    is_break_place_known: bool = True,
    free_length_mm: int | None = None,
    free_length_asked_mm: int | None = None,
    free_length_source: str = "",
    temperature_c: int | None = None,
    retest_of: BreakingTest | None = None,
    note: str = "",
    decision_rule: DecisionRule | None = None,
    as_given: Mapping[str, str] = NOTHING_GIVEN,
    by: Person,
    at: datetime,
) -> BreakingTest:
    """Record a test on a sample: peak in N, or the force log it is found in.

    `break_distance_mm` is from the break to the nearest grip; None when it broke in the clear, or,
    with `is_break_place_known` False, when nobody wrote down where.
    `decision_rule` is the rule on uncertainty that was chosen before the test; None: the
    standard's own. `free_length_asked_mm` is what an order or a standard asks for, named by
    `free_length_source`; None: the usual one is told. `retest_of` is the discounted test that this
    one repeats on another sample of the same mill reel. `as_given` holds what was typed in another
    unit, by the names of these arguments. A test on a machine that could not support
    it is recorded with the reasons, and supports no certificate.

    Raises CannotRecord where the piece is no sample, a time or a force cannot be, or nothing is
    repeated; CannotDecide for a rule chosen since; NoBasis where no basis is named for the reel;
    UnreadableLog or UnfitFile for the log.
    """
    require(by=by, act=ClaimAct.RECORD_BREAKING_TEST)
    check_times(tested_at=tested_at, at=at, made_at=sample.cut_at, made="the sample was cut")
    readings = read_test_log(log, force_unit=log_force_unit, time_unit=log_time_unit)
    asked = free_length_asked(free_length_asked_mm, free_length_source)
    typed = {
        "peak_n": peak_n,
        "break_distance_mm": break_distance_mm,
        "free_length_mm": free_length_mm,
        "free_length_asked_mm": free_length_asked_mm,
    }
    given = kept_as_given(as_given, typed)
    with transaction.atomic():
        reel = lock_row(sample.reel)
        cut = lock_row(sample)
        check_sample(cut)
        _check_piece(
            cut,
            free_length_mm=free_length_mm,
            break_distance_mm=break_distance_mm,
            is_break_place_known=is_break_place_known,
            temperature_c=temperature_c,
        )
        repeated = tie_retest(retest_of, sample=cut, tested_at=tested_at)
        seen = judge_break(
            readings,
            BreakAsked(
                machine=machine,
                tested_at=tested_at,
                peak_n=peak_n,
                break_distance_mm=break_distance_mm,
                is_break_place_known=is_break_place_known,
                free_length_mm=free_length_mm,
                asked=asked,
                temperature_c=temperature_c,
                decision_rule=decision_rule,
            ),
            reel=reel,
        )
        found_n = seen.measured.peak_n
        kept = keep_test_log(log, name=log_name, at=at)
        test = BreakingTest(
            code=numbering.take_code(numbering.BREAKING_TEST),
            sample=cut,
            machine=machine,
            calibration=seen.calibration,
            tested_at=tested_at,
            tested_by=by,
            required_n=seen.required_n,
            peak_n=found_n,
            break_distance_mm=break_distance_mm,
            is_break_place_known=is_break_place_known,
            free_length_mm=free_length_mm,
            free_length_asked_mm=asked.length_mm if asked else None,
            free_length_source=asked.source if asked else "",
            temperature_c=temperature_c,
            log=kept,
            log_force_unit=readings.force_unit if readings else "",
            log_time_unit=readings.time_unit if readings else "",
            outcome=seen.verdict.outcome.value,
            machine_problems=seen.machine_problems,
            reasons=seen.reasons,
            retest_of=repeated,
            note=note.strip(),
            decision_rule=decision_rule,
            uncertainty=seen.judged.uncertainty,
            decision=seen.judged.decision_json,
            as_given=still_true(given, peak_n=(peak_n, found_n)),
            recorded_at=at,
        )
        add_row(test, refusal=CannotRecord)
        _journal(test, by=by, at=at)
    return test


def check_sample(piece: CutPiece) -> None:
    """Refuse a piece that was not cut to be broken. Raises CannotRecord."""
    if piece.purpose != CutPiece.Purpose.SAMPLE:
        message = (
            f"{piece.code} was not cut as a test sample; cut one from the reel and break that."
        )
        raise CannotRecord(message, field="sample")
    if piece.is_reversed:
        message = f"The cut of {piece.code} was reversed: there is no such piece."
        raise CannotRecord(message, field="sample")


def _check_piece(cut: CutPiece, **said: Any) -> None:  # noqa: ANN401 -- the figures of the rule
    try:
        check_broken_piece(sample_mm=cut.to_mm - cut.from_mm, **said)
    except Refusal as refusal:
        raise CannotRecord(refusal.message, field=refusal.field) from refusal


def free_length_asked(length_mm: int | None, source: str) -> FreeLengthAsked | None:
    """Read the free length in mm that something asks for, with its source. Raises CannotRecord."""
    if length_mm is None:
        if source.strip():
            message = "Give the free length that is asked for, or leave its source out."
            raise CannotRecord(message, field="free_length_asked_mm")
        return None
    try:
        return FreeLengthAsked(length_mm, source.strip())
    except Refusal as refusal:
        raise CannotRecord(refusal.message, field=refusal.field) from refusal


def _journal(test: BreakingTest, *, by: Person, at: datetime) -> None:
    calibration = test.calibration
    journal.append(
        at=at,
        by=by,
        act=ClaimAct.RECORD_BREAKING_TEST.value,
        subject=test.code,
        detail={
            "sample": test.sample.code,
            "machine": test.machine.code,
            "calibration": calibration.certificate_number if calibration else "",
            "tested_at": test.tested_at.isoformat(),
            "required_n": test.required_n,
            "peak_n": test.peak_n,
            "break_distance_mm": test.break_distance_mm,
            "is_break_place_known": test.is_break_place_known,
            "outcome": test.outcome,
            "decision_rule": test.decision_rule.code if test.decision_rule else "",
            "decision": str(test.decision.get("outcome", "")),
            "retest_of": test.retest_of.code if test.retest_of else "",
            "machine_problems": len(test.machine_problems),
            "log_sha256": test.log.sha256 if test.log else "",
        },
        rows=[test, *([test.log] if test.log else [])],
    )
