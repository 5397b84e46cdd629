"""A log that is made for a proof load is read as a test that passes, and says it is invented."""

from decimal import Decimal

import pytest

from certs.management.demo.force_logs import proof_log
from certs.rules.load_log import read_log
from certs.rules.load_trace import analyse
from certs.rules.proof_requirement import Requirement
from certs.rules.proof_test import Inspections, ProofOutcome, judge_proof_test


@pytest.mark.parametrize("load_n", [5_300, 22_700, 100_800])
def test_the_load_is_reached_and_held(load_n):
    log = read_log(proof_log(specimen="A-00001", load_n=load_n, seed=3))
    # Class 1 of ISO 7500-1: the machine may err by 1 %.
    asked = Requirement(load_n, 60, machine_q_pct=Decimal(1))
    verdict = judge_proof_test(
        requirement=asked,
        findings=analyse(log.samples, target_n=asked.least_indicated_n),
        inspections=Inspections(before_ok=True, after_ok=True),
    )
    assert verdict.outcome is ProofOutcome.PASSES


def test_the_same_seed_makes_the_same_log_and_another_does_not():
    logs = [proof_log(specimen="A", load_n=9_000, seed=seed) for seed in (1, 1, 2)]
    assert logs[0] == logs[1] != logs[2]


def test_it_says_that_it_is_invented():
    assert proof_log(specimen="A", load_n=9_000, seed=1).startswith(b"Invented data")
