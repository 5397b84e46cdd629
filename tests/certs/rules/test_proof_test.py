"""Verdicts on proof-load tests. The error of class 1 is 1 % (ISO 7500-1), hence 1.01 P."""

from dataclasses import replace
from decimal import Decimal

import pytest

from certs.rules.load_trace import analyse
from certs.rules.machine import MachineClass
from certs.rules.permanent_extension import permanent_extension
from certs.rules.proof_requirement import Requirement
from certs.rules.proof_test import Inspections, ProofOutcome, judge_proof_test, relied_on
from tests.certs.rules.synthetic_log import proof, times, trace, with_spikes, without

PASSES, FAILS, CANNOT_SAY = ProofOutcome.PASSES, ProofOutcome.FAILS, ProofOutcome.CANNOT_SAY
GOOD = Inspections(before_ok=True, after_ok=True)


def need(*, force_n=50_000, hold_s=60, q="1", ceiling_n=None):
    return Requirement(force_n, hold_s, Decimal(q), ceiling_n)


def judge(samples, requirement, inspections=GOOD):
    findings = analyse(samples, target_n=requirement.least_indicated_n)
    return judge_proof_test(requirement=requirement, findings=findings, inspections=inspections)


def held(peak_n=50_600.0, *, hold_s=62.0, drift=0.0, corners=None):
    at = times(until_s=200.0 if corners else 28.0 + hold_s)
    return trace(corners or proof(peak_n, hold_s=hold_s, drift=drift), at, noise_n=5.0)


@pytest.mark.parametrize(
    ("q", "indicated_n"),
    [("0", 50_001), ("0.5", 50_252), ("1", 50_502), ("2", 51_002), ("3", 51_502)],
)
def test_the_force_to_indicate_is_p_times_one_plus_q_rounded_up(q, indicated_n):
    # 50 001 N times 1, 1.005, 1.01, 1.02, 1.03, worked by hand.
    assert need(force_n=50_001, q=q).least_indicated_n == indicated_n


def test_enough_force_for_long_enough_passes():
    verdict = judge(held(), need())
    assert verdict.outcome is PASSES
    assert "50500 N indicated" in " ".join(verdict.findings)
    assert len(verdict.findings) == 3


@pytest.mark.parametrize(
    ("ceiling_n", "outcome"), [(None, CANNOT_SAY), (60_000, PASSES)], ids=["unknown", "known"]
)
def test_a_load_not_to_be_passed_must_be_known_where_there_is_one(ceiling_n, outcome):
    requirement = replace(need(ceiling_n=ceiling_n), needs_ceiling=True)
    assert judge(held(), requirement).outcome is outcome


@pytest.mark.parametrize(
    ("samples", "words"),
    [
        pytest.param(held(50_400.0), "fell to 50", id="required force, but not 1 % more"),
        pytest.param(held(hold_s=50.0), "lasted 50.", id="too short"),
        pytest.param(held(drift=0.02), "fell to 49", id="sinking"),
        pytest.param(held(drift=0.2), "no steady hold; its peak is 50", id="falling"),
    ],
)
def test_what_was_not_held_fails(samples, words):
    verdict = judge(samples, need())
    assert verdict.outcome is FAILS
    assert words in verdict.findings[0]


@pytest.mark.parametrize(
    ("before", "after", "outcome"),
    [
        (False, True, FAILS),
        (True, False, FAILS),
        (False, None, FAILS),
        (None, True, CANNOT_SAY),
        (True, None, CANNOT_SAY),
    ],
)
def test_an_inspection_that_is_bad_or_missing_spoils_a_good_hold(before, after, outcome):
    inspections = Inspections(before_ok=before, after_ok=after)
    assert judge(held(), need(), inspections).outcome is outcome


def test_what_decides_is_told_first():
    verdict = judge(held(50_400.0), need(), Inspections(before_ok=True, after_ok=None))
    assert "fell to 50" in verdict.findings[0]
    assert "No inspection after" in verdict.findings[1]
    assert "found nothing wrong" in verdict.findings[2]


def test_time_that_the_log_does_not_show_is_not_counted():
    samples = without(held(), gaps=[(30.0, 38.0)])
    verdict = judge(samples, need())
    assert verdict.outcome is CANNOT_SAY
    assert "no readings for 8.0 s" in verdict.findings[0]
    shorter = judge(samples, need(hold_s=53))
    assert shorter.outcome is PASSES
    assert "(no readings for 8.0 s of it)" in " ".join(shorter.findings)


STEPS = [
    (0.0, 0.0),
    (10.0, 49_500.0),
    (70.0, 49_500.0),
    (71.0, 50_600.0),
    (131.0, 50_600.0),
    (132.0, 60_000.0),
    (162.0, 60_000.0),
    (165.0, 0.0),
    (200.0, 0.0),
]


@pytest.mark.parametrize(("hold_s", "outcome"), [(90, PASSES), (95, FAILS)])
def test_a_hold_in_steps_counts_from_where_it_is_high_enough(hold_s, outcome):
    verdict = judge(held(corners=STEPS), need(hold_s=hold_s))
    assert verdict.outcome is outcome


def test_findings_for_another_target_do_not_count_steps():
    findings = analyse(held(corners=STEPS), target_n=40_000)
    verdict = judge_proof_test(requirement=need(hold_s=90), findings=findings, inspections=GOOD)
    assert verdict.outcome is FAILS


@pytest.mark.parametrize(
    ("ceiling_n", "outcome", "words"),
    [
        pytest.param(52_000, PASSES, "keeps the upper limit", id="surely below"),
        pytest.param(51_000, CANNOT_SAY, "no reading proves both bounds", id="bounds conflict"),
        pytest.param(50_000, FAILS, "above the upper limit", id="surely above"),
    ],
)
def test_an_upper_limit(ceiling_n, outcome, words):
    # C (1 - q) of 52 000 N is 51 480 N, of 51 000 N 50 490 N; C (1 + q) of 50 000 N is 50 500 N.
    verdict = judge(held(), need(ceiling_n=ceiling_n))
    assert verdict.outcome is outcome
    assert words in " ".join(verdict.findings)


def test_a_conflict_shows_both_bounds():
    # No more than the proof load itself, as on a form with a tolerance of +0 %.
    text = " ".join(judge(held(), need(ceiling_n=50_000)).findings)
    assert "at least 50500 N" in text
    assert "at most 49500 N" in text


@pytest.mark.parametrize(("hold_s", "outcome"), [(60, CANNOT_SAY), (70, FAILS)])
def test_a_spike_above_the_limit_leaves_it_open(hold_s, outcome):
    samples = with_spikes(held(), {400: 60_000.0})
    verdict = judge(samples, need(hold_s=hold_s, ceiling_n=52_000))
    assert verdict.outcome is outcome
    text = " ".join(verdict.findings)
    assert "The highest reading, 60000 N, does not prove" in text


def test_spikes_are_set_aside_and_told():
    verdict = judge(with_spikes(held(), {400: 30_000.0}), need())
    assert verdict.outcome is PASSES
    assert verdict.findings[-1].endswith("set aside: 1 (30000 N at 40.0 s).")


def test_of_many_spikes_three_are_told():
    spikes = dict.fromkeys((300, 400, 500, 600), 30_000.0)
    text = judge(with_spikes(held(), spikes), need()).findings[-1]
    assert "set aside: 4 (30000 N at 30.0 s, 30000 N at 40.0 s, 30000 N at 50.0 s, and so" in text


ROWS = tuple(MachineClass(q, Decimal(q), "ISO 7500-1", "read") for q in ("0.5", "1"))


@pytest.mark.parametrize(
    ("ceiling_n", "words"),
    [
        # Class 0.5 needs 50 250 N and allows 50 743 N of 50 998 N; class 1 needs 50 500 N, allows
        # 50 488 N.
        pytest.param(50_998, "A machine of class 0.5 or better would serve.", id="one would"),
        pytest.param(50_000, "No class held here would serve", id="none would"),
    ],
)
def test_a_conflict_says_which_machine_would_serve(ceiling_n, words):
    requirement = replace(need(ceiling_n=ceiling_n), classes=ROWS)
    text = " ".join(judge(held(), requirement).findings)
    assert "no reading proves both bounds" in text
    assert words in text


def test_without_an_upper_limit_there_is_nothing_to_remedy():
    assert replace(need(), classes=ROWS).remedy == ""


@pytest.mark.parametrize(
    ("after_um", "limit", "outcome"),
    [
        pytest.param(1_004_000, "0.5", PASSES, id="within"),
        pytest.param(1_006_000, "0.5", FAILS, id="beyond"),
        pytest.param(999_000, "0.5", CANNOT_SAY, id="shorter than before"),
        pytest.param(1_100_000, None, PASSES, id="no limit named"),
    ],
)
def test_a_permanent_extension_counts_where_a_limit_was_named(after_um, limit, outcome):
    extension = permanent_extension(
        before_um=1_000_000, after_um=after_um, limit_pct=None if limit is None else Decimal(limit)
    )
    samples = held()
    requirement = need()
    findings = analyse(samples, target_n=requirement.least_indicated_n)
    verdict = judge_proof_test(
        requirement=requirement, findings=findings, inspections=GOOD, extension=extension
    )
    assert verdict.outcome is outcome
    assert extension.told in verdict.findings


@pytest.mark.parametrize(("zero_n", "is_told"), [(400.0, False), (600.0, True), (-600.0, False)])
def test_a_log_that_never_shows_the_empty_machine_is_told(zero_n, is_told):
    # The error of class 1 on 50 000 N is 500 N.
    corners = [(0.0, zero_n), (5.0, zero_n), (15.0, 50_800.0), (77.0, 50_800.0), (80.0, zero_n)]
    verdict = judge(trace(corners, times(until_s=90.0), noise_n=5.0), need())
    assert verdict.outcome is PASSES
    assert ("zero left unset" in " ".join(verdict.findings)) == is_told


TWO_LEVELS = [
    (0.0, 0.0),
    (10.0, 50_000.0),
    (110.0, 50_000.0),
    (111.0, 53_000.0),
    (176.0, 53_000.0),
    (180.0, 0.0),
    (200.0, 0.0),
]


@pytest.mark.parametrize(
    ("force_n", "level_n"),
    [
        pytest.param(52_000, 53_000, id="the high one, though the low one is longer"),
        pytest.param(49_000, 50_000, id="of two that are high enough the longer"),
        pytest.param(60_000, 50_000, id="of none that is high enough the main one"),
    ],
)
def test_the_hold_that_is_relied_on(force_n, level_n):
    requirement = need(force_n=force_n)
    findings = analyse(held(corners=TWO_LEVELS), target_n=requirement.least_indicated_n)
    assert relied_on(requirement, findings).level_n == pytest.approx(level_n, abs=50)


def test_a_log_without_a_hold_has_none_to_rely_on():
    requirement = need()
    assert relied_on(requirement, analyse(held(drift=0.2))) is None
