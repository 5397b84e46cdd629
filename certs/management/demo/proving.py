"""Plays the proof-load tests: most hold, one sinks, one is made on a bench out of calibration."""

from dataclasses import dataclass

from certs.management.demo.force_logs import proof_log
from certs.management.demo.invented import force_log
from certs.management.demo.stage import Stage
from certs.models import ProofTest
from certs.services.record_tests import record_proof_test

TWICE = "2 x the vertical rated load (ASME B30.9, as cited on a US national-laboratory test form)"
SPLICED = "at most 1.25 x the rated load for a hand splice (ASME B30.9, same form)"
SHARE = "customer's order: 40 % of the minimum breaking force"


@dataclass(frozen=True, slots=True)
class Proof:
    """A proof load in N on an assembly; without a file, a log is made that reaches and holds it.

    `gauge_um` is one length before and after the load, with the limit of what may stay in per cent.
    """

    key: str
    required_n: int
    rule: str = TWICE
    file: str = ""
    machine: str = "proof"
    after_note: str = "no change"
    ceiling_n: int | None = None
    gauge_um: tuple[int, int] | None = None
    limit_pct: str = ""


# Twice the rated load of EN 13414-1 of the ropes in the tables: force x KT / 5, to the next 100 N.
FIRST = (
    Proof("8 mm", 14_500, file="proof_8mm_spikes_and_gaps.csv"),
    Proof("10 mm", 22_700, file="proof_10mm_two_eyes.csv"),
    Proof("10 mm more", 22_700),
    Proof("12 mm", 30_000, "customer's order: 30 kN", "proof_12mm_sinking.csv"),
    Proof("20 mm spliced", 47_000, SPLICED),
    Proof("20 mm socketed", 100_800, SHARE, ceiling_n=110_000),
    Proof("stay 1", 5_300, SHARE),
)
SECOND = (
    Proof("13 mm two legs", 42_500, gauge_um=(1_500_000, 1_504_250)),
    Proof("16 mm four legs", 58_000, gauge_um=(2_000_000, 2_006_000), limit_pct="0.5"),
    Proof("half inch", 44_483, "customer's order: 10 000 lbf", "proof_half_inch_pounds.csv"),
    Proof("10 mm of the weak reel", 22_700),
    Proof("8 mm held", 14_600),
)
ON_THE_OLD_BENCH = Proof("6 mm stainless", 7_200, machine="old")


def prove(stage: Stage, proof: Proof) -> ProofTest:
    """Look at an assembly, put the load on, and look again."""
    assembly = stage.assemblies[proof.key]
    before_um, after_um = proof.gauge_um or (None, None)
    made = proof_log(specimen=assembly.code, load_n=proof.required_n, seed=assembly.pk)
    return record_proof_test(
        assembly=assembly,
        machine=stage.machines[proof.machine],
        tested_at=stage.calendar.moment(),
        required_n=proof.required_n,
        required_hold_s=60,
        rule=proof.rule,
        log=force_log(proof.file) if proof.file else made,
        log_name=proof.file or f"{assembly.code}.csv",
        before_is_good=True,
        before_note="rope and ends without fault",
        after_is_good=True,
        after_note=proof.after_note,
        ceiling_n=proof.ceiling_n,
        gauge_before_um=before_um,
        gauge_after_um=after_um,
        extension_limit_pct=proof.limit_pct,
        by=stage.people["bench"],
        at=stage.calendar.moment(),
    )
