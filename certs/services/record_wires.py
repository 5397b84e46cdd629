"""Records a test of the wires of a rope: what each bore, and what all of them together say.

The facts are never changed afterwards. A calculated force neither raises nor lowers what is
certified; that a sample has to be broken after one that falls short is said by `force_route`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from certs.models import WireResult, WireTest
from certs.queries.derivation import required_force
from certs.queries.machine_support import calibration_on, problems_on
from certs.queries.wire_tables import wire_tables
from certs.queries.wire_tests import heat_steels
from certs.rules.breaking_force import whole_newtons
from certs.rules.derived import plain
from certs.rules.roles import ClaimAct
from certs.rules.wire_bands import steel_of_wires
from certs.rules.wire_force import PartialLoss, TotalLoss
from certs.rules.wire_strength import MN_PER_N, Wire
from certs.rules.wire_tests import (
    Method,
    WireVerdict,
    judge_after_unlaying,
    judge_before_laying,
    loss_for,
)
from certs.services.authority import require
from certs.services.test_evidence import CannotRecord, check_times
from certs.services.wires_asked import check_sample, method_asked, reel_asked
from inventory.models import CutPiece, Person, Reel, TestingMachine
from inventory.rules.designation import parse_designation
from inventory.rules.refusal import Refusal
from inventory.services import journal, numbering
from inventory.services.guarded import add_row, guarded
from inventory.services.locks import lock_row

# ISO 6892-1 asks for a machine of class 1 (from memory, not seen).
NEEDED_CLASS = "1"


@dataclass(frozen=True, slots=True)
class _Tested:
    """What was tested, as it stands under lock: a reel, and the piece unlaid if there was one."""

    method: Method
    reel: Reel
    sample: CutPiece | None
    wires: tuple[Wire, ...]
    loss: PartialLoss | TotalLoss | None


def record_wire_test(
    *,
    method: str,
    sample: CutPiece | None = None,
    reel: Reel | None = None,
    machine: TestingMachine | None = None,
    paper: str = "",
    tested_at: datetime,
    wires: Sequence[Wire],
    spinning_factors: Sequence[Decimal] = (),
    spinning_source: str = "",
    note: str = "",
    by: Person,
    at: datetime,
) -> WireTest:
    """Record wires taken from a sample (method 2), or tested before laying by a paper (method 3).

    `spinning_factors` are those of three type tests, of which the lowest counts, or one from a
    named source; empty where none is known: then no force is calculated.

    Raises CannotRecord where sample, reel, paper, a time or a wire cannot be; NoBasis where no
    basis is named for the reel.
    """
    require(by=by, act=ClaimAct.RECORD_WIRE_TEST)
    way = method_asked(method)
    rope_reel = reel_asked(way, sample=sample, reel=reel, machine=machine, paper=paper)
    # Wires tested before laying are older than anything here.
    made_at = sample.cut_at if sample else tested_at
    check_times(tested_at=tested_at, at=at, made_at=made_at, made="the sample was cut")
    with transaction.atomic():
        locked = lock_row(rope_reel)
        cut = lock_row(sample) if sample else None
        check_sample(cut)
        loss = _loss(way, spinning_factors, spinning_source)
        tested = _Tested(way, locked, cut, tuple(wires), loss)
        required_n = whole_newtons(required_force(locked))
        verdict = _judge(tested, required_n=required_n)
        day = timezone.localdate(tested_at)
        calibration = calibration_on(machine, day=day) if machine else None
        test = WireTest(
            code=numbering.take_code(numbering.WIRE_TEST),
            reel=locked,
            method=way.value,
            sample=cut,
            paper=paper.strip(),
            machine=machine,
            calibration=calibration,
            tested_at=tested_at,
            tested_by=by,
            required_n=required_n,
            spinning_factor=plain(min(loss.values)) if loss else "",
            spinning_source=loss.source if loss else "",
            sum_n=verdict.sum_n,
            calculated_n=verdict.calculated_n,
            supported_grade=verdict.grade.supported,
            outcome=verdict.outcome.value,
            grade_outcome=verdict.grade.outcome.value,
            findings=[finding.as_json() for finding in verdict.findings],
            machine_problems=problems_on(
                calibration, day=day, forces_n=_relied_on(tested.wires), needed_class=NEEDED_CLASS
            )
            if machine
            else [],
            note=note.strip(),
            recorded_at=at,
        )
        add_row(test, refusal=CannotRecord)
        results = _add_wires(test, tested.wires)
        _journal(test, results, by=by, at=at)
    return test


def _loss(method: Method, values: Sequence[Decimal], source: str) -> PartialLoss | TotalLoss | None:
    try:
        return loss_for(method, values, source=source)
    except Refusal as refusal:
        raise CannotRecord(refusal.message, field=refusal.field) from refusal


def _judge(tested: _Tested, *, required_n: int) -> WireVerdict:
    rope = parse_designation(tested.reel.designation)
    steel = steel_of_wires(heat_steels(tested.reel, sample=tested.sample))
    tables = wire_tables(rope)
    try:
        if tested.method is Method.AFTER_UNLAYING:
            return judge_after_unlaying(
                rope=rope,
                steel=steel,
                wires=tested.wires,
                loss=tested.loss if isinstance(tested.loss, PartialLoss) else None,
                required_n=required_n,
                tables=tables,
            )
        return judge_before_laying(
            rope=rope,
            steel=steel,
            wires=tested.wires,
            loss=tested.loss if isinstance(tested.loss, TotalLoss) else None,
            required_n=required_n,
            tables=tables,
        )
    except Refusal as refusal:
        raise CannotRecord(refusal.message, field=refusal.field) from refusal


def _relied_on(wires: Sequence[Wire]) -> list[int]:
    """Give the least and the greatest force in whole N, outwards: the machine is relied on."""
    forces = [force_mn for wire in wires for force_mn in wire.forces_mn]
    return [min(forces) // MN_PER_N, -(-max(forces) // MN_PER_N)]


def _add_wires(test: WireTest, wires: Sequence[Wire]) -> list[WireResult]:
    with guarded(CannotRecord):
        return WireResult.objects.bulk_create(
            WireResult(
                test=test,
                position=position,
                layer=wire.layer.strip(),
                diameter_nm=wire.diameter_nm,
                represents=wire.represents,
                force_mn=wire.force_mn,
                retest_force_mn=wire.retest_force_mn,
            )
            for position, wire in enumerate(wires, 1)
        )


def _journal(test: WireTest, wires: Sequence[WireResult], *, by: Person, at: datetime) -> None:
    calibration = test.calibration
    journal.append(
        at=at,
        by=by,
        act=ClaimAct.RECORD_WIRE_TEST.value,
        subject=test.code,
        detail={
            "reel": test.reel.code,
            "sample": test.sample.code if test.sample else "",
            "method": test.method,
            "machine": test.machine.code if test.machine else "",
            "calibration": calibration.certificate_number if calibration else "",
            "tested_at": test.tested_at.isoformat(),
            "wires": len(wires),
            "required_n": test.required_n,
            "sum_n": test.sum_n,
            "spinning_factor": test.spinning_factor,
            "calculated_n": test.calculated_n,
            "outcome": test.outcome,
            "grade_outcome": test.grade_outcome,
            "machine_problems": len(test.machine_problems),
        },
        rows=[test, *wires],
    )
