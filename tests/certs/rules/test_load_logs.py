"""Force logs that were made to mislead: what was built into each is found in it, and no more.

The truth stands in `logs/README.txt`; `logs/make_logs.py` wrote both from the corners of the load.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from certs.rules.load_log import Sample, UnreadableLog, read_log
from certs.rules.load_trace import analyse
from tests.certs.rules.logs.make_logs import LOGS, make_logs

FOLDER = Path(__file__).parent / "logs"
READ = [log for log in LOGS if not log.is_refused]
HELD = [log for log in READ if log.holds]
# Normal noise lies within six standard deviations of its mean in all but two of 10^9 readings.
SIGMAS = 6


def named(logs):
    return [pytest.param(log, id=log.name) for log in logs]


def found_in(log):
    return analyse(read_log((FOLDER / f"{log.name}.csv").read_bytes()).samples)


def main_first(findings):
    others = [plateau for plateau in findings.plateaus if plateau != findings.plateau]
    return [findings.plateau, *others] if findings.plateau else []


def test_the_files_are_those_that_the_script_makes():
    files = [*FOLDER.glob("*.csv"), *FOLDER.glob("*.txt")]
    kept = {path.name: path.read_text() for path in files}
    assert kept == make_logs()


def check_holds(plateaus, log):
    assert len(plateaus) == len(log.holds)
    for plateau, (start_s, end_s) in zip(plateaus, log.holds, strict=True):
        assert plateau.start_s == pytest.approx(start_s, abs=log.tolerance_s + 1e-6)
        assert plateau.end_s == pytest.approx(end_s, abs=log.tolerance_s + 1e-6)


@pytest.mark.parametrize("log", named(READ))
def test_the_holds_that_were_built_in_are_found_and_no_others(log):
    check_holds(main_first(found_in(log)), log)


@pytest.mark.parametrize("log", named(HELD))
def test_the_lowest_force_is_the_least_that_was_displayed_while_held(log):
    lowest_n = found_in(log).plateau.lowest_n
    # A hold found a reading short misses at most the noise; a reading long, one step of the ramp.
    assert 0.99 * log.least_n() <= lowest_n <= log.least_n() + SIGMAS * log.noise_n


@pytest.mark.parametrize("log", named(HELD))
def test_no_reading_within_the_hold_lies_below_its_lowest_but_the_spikes_told(log):
    findings = found_in(log)
    plateau, spikes = findings.plateau, set(findings.spikes)
    samples = read_log((FOLDER / f"{log.name}.csv").read_bytes()).samples
    held = [s for s in samples if plateau.start_s <= s.time_s <= plateau.end_s]
    assert min(s.force_n for s in held if s not in spikes) == plateau.lowest_n


@pytest.mark.parametrize("log", named([log for log in READ if log.name != "spiky_noise"]))
def test_every_spike_that_was_put_in_is_told_and_nothing_else(log):
    built = {force_n for _, force_n, is_spike in log.readings() if is_spike}
    assert {sample.force_n for sample in found_in(log).spikes} == built


@pytest.mark.parametrize("log", named([log for log in LOGS if log.is_refused]))
def test_a_log_that_cannot_be_relied_on_is_refused(log):
    with pytest.raises(UnreadableLog, match="cannot be used"):
        found_in(log)


@pytest.mark.parametrize("seed", range(100, 105))
@pytest.mark.parametrize("log", named(HELD))
def test_other_noise_leads_to_the_same_holds(log, seed):
    samples = []
    for time_s, force_n, _ in replace(log, seed=seed).readings():
        if not samples or time_s > samples[-1].time_s:
            samples.append(Sample(time_s, force_n))
    # Another draw of chance may cost one reading more.
    check_holds(main_first(analyse(samples)), replace(log, tolerance_s=log.tolerance_s + 0.3))


def test_a_gap_is_told_where_it_was_made():
    ((start_s, end_s),) = found_in(next(log for log in LOGS if log.name == "gap")).gaps
    assert (start_s, end_s) == (28.0, 34.0)


def test_a_lost_load_of_two_seconds_is_no_spike():
    findings = found_in(next(log for log in LOGS if log.name == "short_dip"))
    assert findings.spikes == ()
    assert findings.plateau.lowest_n == pytest.approx(30_000, abs=300)
