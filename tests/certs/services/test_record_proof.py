"""Recording a proof load: peak, plateau and hold come from the log alone."""

from datetime import date, timedelta

import pytest

from certs.models import ProofTest
from certs.rules.load_log import UnreadableLog
from certs.services.record_tests import CannotRecord, record_proof_test
from inventory.models import Assembly, JournalEntry
from inventory.queries.kept_files import read_file
from inventory.rules.roles import Role
from inventory.services.assemble import PieceAsked, TerminationAsked, build_assembly
from inventory.services.authority import NotAllowed
from tests.certs.claims import LOGS, force_log, given_basis, given_factor, given_proof_test
from tests.factories import (
    MOMENT,
    given_assembly,
    given_calibration,
    given_machine,
    given_person,
    given_piece,
    given_reel,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

TWO_EYES = (LOGS / "proof_10mm_two_eyes.csv").read_bytes()


def record(**said):
    values = {
        "tested_at": MOMENT,
        "required_n": 22_700,
        "required_hold_s": 60,
        "rule": "2 x the vertical rated load",
        "log": TWO_EYES,
        "log_name": "bench.csv",
        "before_is_good": True,
        "before_note": "",
        "after_is_good": True,
        "after_note": "",
        "by": given_person(Role.TEST_BENCH),
        "at": MOMENT,
    }
    assembly = said.pop("assembly", None) or given_assembly()
    machine = said.pop("machine", None) or given_machine()
    return record_proof_test(assembly=assembly, machine=machine, **(values | said))


def test_plateau_and_hold_are_found_in_the_log_and_the_log_is_kept():
    test = record()
    # What fixtures/demo/make_logs.py put in: 23.2 kN from 16 s to 81 s.
    assert test.outcome == "passes"
    assert test.plateau_from_ms == pytest.approx(16_000, abs=200)
    assert test.plateau_to_ms == pytest.approx(81_000, abs=200)
    assert test.plateau_lowest_n == pytest.approx(23_200, rel=0.01)
    assert read_file(test.log) == TWO_EYES
    assert (test.log_force_unit, test.log_time_unit) == ("kN", "s")
    assert test.machine_problems == []


def test_a_log_in_another_unit_needs_nothing_said():
    log = (LOGS / "proof_half_inch_pounds.csv").read_bytes()
    # 10 000 lbf of 4.4482216152605 N each (NIST SP 811).
    assert record(log=log, required_n=44_482).outcome == "passes"


def test_a_load_that_sinks_fails():
    log = (LOGS / "proof_12mm_sinking.csv").read_bytes()
    assert record(log=log, required_n=38_000).outcome == "fails"


def test_the_error_of_the_machines_class_is_added_to_the_load():
    # ISO 7500-1: class 1 may err by 1 %, so P (1 + q): 22 970 N need 23 200 N indicated.
    log = force_log(peak_n=23_200, hold_s=65)
    assert record(required_n=22_970, log=log).outcome == "passes"
    assert record(required_n=22_971, log=log).outcome == "fails"


def test_a_hold_too_short_fails():
    assert record(required_hold_s=90).outcome == "fails"


def test_an_overload_beyond_the_ceiling_fails():
    assert given_proof_test(required_n=40_000, ceiling_n=40_100).outcome != "passes"
    log = force_log(peak_n=45_000, hold_s=65)
    assert given_proof_test(required_n=40_000, ceiling_n=42_000, log=log).outcome == "fails"


def test_damage_found_afterwards_fails():
    assert record(after_is_good=False, after_note="eye drawn out").outcome == "fails"


def test_bad_rows_are_reported_by_line():
    test = record(log=TWO_EYES + b"99,0;broken\n")
    (problem,) = test.line_problems
    assert problem["reason"] == "the force is not a number"
    assert problem["text"] == "99,0;broken"
    assert problem["line"] == TWO_EYES.count(b"\n") + 1


def test_of_very_many_bad_rows_fifty_are_told_and_the_rest_counted():
    log = force_log(peak_n=23_200, hold_s=200) + b"\nx;x" * 70
    problems = record(log=log).line_problems
    assert len(problems) == 51
    assert problems[-1]["reason"] == "20 more lines from here on were not used"


def test_without_a_calibration_it_is_recorded_and_supports_nothing():
    test = record(machine=given_machine(is_calibrated=False))
    assert test.calibration is None
    assert "No calibration" in test.machine_problems[0]
    assert any("greatest error of any class" in reason for reason in test.reasons)


def test_a_test_after_the_calibration_was_due_is_recorded_with_the_problem():
    machine = given_machine(is_calibrated=False)
    given_calibration(machine, calibrated_date=date(2025, 1, 10), due_date=date(2026, 1, 9))
    assert "was due on" in record(machine=machine).machine_problems[0]


def test_a_hold_below_the_verified_range_is_recorded_with_the_problem():
    machine = given_machine(is_calibrated=False)
    given_calibration(machine, range_from_n=50_000)
    problems = record(machine=machine).machine_problems
    assert all("outside the verified range" in problem for problem in problems)
    assert problems


def test_the_journal_holds_the_test():
    test = record()
    entry = JournalEntry.objects.order_by("number").last()
    assert (entry.act, entry.subject) == ("record_proof_test", test.code)
    assert test.log.sha256 in entry.canonical


@pytest.mark.parametrize(
    ("said", "field"),
    [
        pytest.param({"required_n": 0}, "required_n", id="no load"),
        pytest.param({"required_hold_s": -1}, "required_hold_s", id="less than no time"),
        pytest.param({"required_hold_s": 90_000}, "required_hold_s", id="more than a day"),
        pytest.param({"ceiling_n": 22_000}, "ceiling_n", id="ceiling below the load"),
        pytest.param({"rule": " "}, "rule", id="no rule"),
        pytest.param({"tested_at": MOMENT + timedelta(hours=1)}, "tested_at", id="in the future"),
        pytest.param({"tested_at": MOMENT - timedelta(days=1)}, "tested_at", id="before it was"),
        pytest.param({"log": b"t [s];F [N]\n0;-1\n1;-2\n2;-1\n"}, "log", id="no load in it"),
        pytest.param({"log": b"t [s];F [N]\n-1;1\n1;2\n2;1\n"}, "log", id="clock below nought"),
        pytest.param({"log": None}, "log", id="no log"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(said, field):
    with pytest.raises(CannotRecord) as refused:
        record(**said)
    assert refused.value.field == field
    assert not ProofTest.objects.exists()


def test_a_file_that_is_no_log_is_refused():
    with pytest.raises(UnreadableLog):
        record(log=b"dear sir, the sling is strong\n")


def test_the_auditor_records_no_test():
    with pytest.raises(NotAllowed):
        record(by=given_person(Role.AUDITOR))


def spliced(reel) -> Assembly:
    ends = [
        TerminationAsked(end, "hand_splice", [], operator="Splicer 1") for end in ("near", "far")
    ]
    return build_assembly(
        kind="one_leg",
        pieces=[PieceAsked(given_piece(reel=reel), ends)],
        by=given_person(),
        at=MOMENT,
    )


@pytest.fixture
def rope():
    """0.356 x 144 x 1770 / 1000 = 90.7 kN; x 0.8 / (5 x 9.81) = 1.479 t, stated 1.47 t."""
    reel = given_reel(designation="12 6x36WS-IWRC 1770 B sZ")
    given_basis(reel, given_factor("6x36", "IWRC"))
    return reel


def test_a_hand_splice_is_never_proved_above_one_and_a_quarter(rope):
    # ASME B30.9 as cited on a US form, read: 1.25 x 1.47 t x 9.81 = 18.025 kN.
    log = force_log(peak_n=29_200, hold_s=65)
    test = record(assembly=spliced(rope), required_n=28_800, log=log)
    assert (test.ceiling_n, test.outcome) == (18_025, "fails")
    assert "Hand splices are never proved above 1.25" in test.reasons[-1]


def test_a_hand_splice_proved_within_its_limit_passes(rope):
    log = force_log(peak_n=17_500, hold_s=65)
    test = record(assembly=spliced(rope), required_n=17_000, log=log)
    assert test.outcome == "passes"


def test_a_lower_ceiling_that_was_given_stays(rope):
    log = force_log(peak_n=15_000, hold_s=65)
    test = record(assembly=spliced(rope), required_n=14_000, ceiling_n=16_000, log=log)
    assert test.ceiling_n == 16_000


def test_a_hand_splice_that_cannot_be_rated_yet_is_not_shown_to_be_sound():
    """Rated afterwards, the load may turn out to have drawn it."""
    test = record(assembly=spliced(given_reel()))
    assert (test.ceiling_n, test.outcome) == (None, "cannot_say")
    assert "Rate the item first" in test.reasons[0]


def test_a_limit_that_was_given_serves_a_hand_splice_that_cannot_be_rated():
    log = force_log(peak_n=15_000, hold_s=65)
    test = record(assembly=spliced(given_reel()), required_n=14_000, ceiling_n=16_000, log=log)
    assert (test.ceiling_n, test.outcome) == (16_000, "passes")
