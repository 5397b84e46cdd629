"""Which proof loads may stand under a certificate when there are several."""

from datetime import timedelta

import pytest

from certs.queries.evidence import failed_proof_load, supporting_proof_tests
from certs.services.reverse_test import reverse_test
from tests.certs.claims import force_log, given_proof_test
from tests.certs.papers import given_certifiable_assembly
from tests.factories import MOMENT, given_hold, given_machine, given_person

pytestmark = pytest.mark.usefixtures("tables")

PASS, FAIL = True, False


@pytest.fixture
def assembly(db):
    return given_certifiable_assembly()


def proved(assembly, *outcomes):
    """One test an hour, each with a good or a bad inspection after the load."""
    return [
        given_proof_test(
            assembly=assembly, after_is_good=is_good, tested_at=MOMENT + timedelta(hours=hour)
        )
        for hour, is_good in enumerate(outcomes)
    ]


@pytest.mark.parametrize(
    ("outcomes", "supporting"),
    [
        pytest.param([], [], id="none"),
        pytest.param([PASS], [0], id="one that passed"),
        pytest.param([PASS, PASS], [1, 0], id="two that passed, the latest first"),
        pytest.param([PASS, FAIL], [], id="failed later"),
        pytest.param([FAIL, PASS], [1], id="passed after it was mended"),
        pytest.param([PASS, FAIL, PASS], [2], id="only what was passed since"),
    ],
)
def test_a_failure_takes_with_it_what_was_passed_before(assembly, outcomes, supporting):
    tests = proved(assembly, *outcomes)
    assert supporting_proof_tests(assembly) == [tests[place] for place in supporting]


def test_a_failure_that_was_recorded_wrongly_takes_nothing(assembly):
    passed, failed = proved(assembly, PASS, FAIL)
    reverse_test(test=failed, reason="another sling", by=given_person(), at=MOMENT)
    assert supporting_proof_tests(assembly) == [passed]


@pytest.mark.parametrize(
    ("outcomes", "failed"),
    [
        pytest.param([PASS], None, id="never failed"),
        pytest.param([PASS, FAIL], 1, id="failed last"),
        pytest.param([FAIL, FAIL], 1, id="the last of two failures"),
        pytest.param([FAIL, PASS], None, id="passed after it was mended"),
    ],
)
def test_a_failure_stands_until_a_later_pass(assembly, outcomes, failed):
    tests = proved(assembly, *outcomes)
    assert failed_proof_load(assembly) == (None if failed is None else tests[failed])


def later_pass(assembly, machine):
    return given_proof_test(
        assembly=assembly,
        machine=machine,
        log=force_log(peak_n=42_000, hold_s=65),
        tested_at=MOMENT + timedelta(hours=9),
    )


def test_a_pass_on_a_machine_without_calibration_mends_nothing(assembly):
    (failed,) = proved(assembly, FAIL)
    passed = later_pass(assembly, given_machine(is_calibrated=False))
    assert (passed.outcome, bool(passed.machine_problems)) == ("passes", True)
    assert failed_proof_load(assembly) == failed


def test_a_pass_on_a_machine_under_hold_mends_nothing(assembly):
    (failed,) = proved(assembly, FAIL)
    machine = given_machine()
    later_pass(assembly, machine)
    assert failed_proof_load(assembly) is None
    given_hold(machine)
    assert failed_proof_load(assembly) == failed
