"""Invented claims for tests, made through the services; what is not said is the plainest thing."""

from datetime import datetime
from typing import Any

from django.conf import settings

from certs.models import BreakingTest, ForceFactor, ProofTest, StrengthBasis, TabulatedForce
from certs.services.record_tests import record_breaking_test, record_proof_test
from certs.services.specify import name_basis
from inventory.models import Assembly, CutPiece, Reel, TestingMachine
from inventory.rules.roles import Role
from tests.factories import MOMENT, given_assembly, given_machine, given_person

FOLDER = settings.ROOT / "fixtures" / "specification"
LOGS = settings.ROOT / "fixtures" / "demo" / "logs"


def given_factor(rope_class: str, core: str) -> ForceFactor:
    return ForceFactor.objects.get(rope_class=rope_class, rope_core=core)


def given_table_row(standard: str, diameter: str, grade: str) -> TabulatedForce:
    return TabulatedForce.objects.get(standard=standard, diameter=diameter, grade=grade)


def given_basis(reel: Reel, factor: ForceFactor | None = None) -> StrengthBasis:
    """The factor of 6x7 with a strand core unless another is given."""
    return name_basis(
        reel=reel,
        kind="factor",
        factor=factor or given_factor("6x7", "WSC"),
        reason="as ordered",
        by=given_person(),
        at=MOMENT,
    )


def given_breaking_test(
    *,
    sample: CutPiece,
    peak_n: int,
    machine: TestingMachine | None = None,
    break_distance_mm: int | None = None,
    tested_at: datetime = MOMENT,
    **said: Any,
) -> BreakingTest:
    return record_breaking_test(
        sample=sample,
        machine=machine or given_machine(),
        tested_at=tested_at,
        peak_n=peak_n,
        log=None,
        break_distance_mm=break_distance_mm,
        temperature_c=20,
        by=given_person(Role.TEST_BENCH),
        at=max(MOMENT, tested_at),
        **said,
    )


def force_log(*, peak_n: int, hold_s: int = 60, unit: str = "N") -> bytes:
    """A log as a bench writes it: ten seconds up, the hold, ten seconds down, ten a second."""
    up = [(i / 10, peak_n * i / 100) for i in range(100)]
    hold = [(10 + i / 10, float(peak_n)) for i in range(hold_s * 10 + 1)]
    end_s = 10 + hold_s
    down = [(end_s + i / 10, peak_n * (1 - i / 100)) for i in range(1, 101)]
    lines = [f"{time_s:.1f};{force_n:.1f}" for time_s, force_n in (*up, *hold, *down)]
    return "\n".join((f"Time [s];Force [{unit}]", *lines)).encode()


def given_proof_test(  # noqa: PLR0913 -- a case names what matters to it
    *,
    assembly: Assembly | None = None,
    machine: TestingMachine | None = None,
    required_n: int = 40_000,
    log: bytes | None = None,
    ceiling_n: int | None = None,
    after_is_good: bool = True,
    tested_at: datetime = MOMENT,
) -> ProofTest:
    return record_proof_test(
        assembly=assembly or given_assembly(),
        machine=machine or given_machine(),
        tested_at=tested_at,
        required_n=required_n,
        required_hold_s=60,
        rule="2 x the vertical rated load",
        log=log or force_log(peak_n=required_n * 102 // 100, hold_s=65),
        log_name="bench.csv",
        ceiling_n=ceiling_n,
        before_is_good=True,
        before_note="",
        after_is_good=after_is_good,
        after_note="",
        by=given_person(Role.TEST_BENCH),
        at=max(MOMENT, tested_at),
    )
