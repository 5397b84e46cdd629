"""Which tests speak of a reel, and which of them may be relied on."""

import pytest

from certs.queries.rope_tests import tests_on_rope as on_rope
from inventory.services.holds import release_hold
from tests.certs.claims import given_basis, given_breaking_test
from tests.factories import (
    MOMENT,
    given_calibration,
    given_hold,
    given_machine,
    given_person,
    given_reel,
    given_sample,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


@pytest.fixture
def reel():
    reel = given_reel()
    given_basis(reel)
    return reel


def only(reel):
    (found,) = on_rope(reel)
    return found


@pytest.mark.parametrize(
    ("peak_n", "break_distance_mm", "is_evidence", "has_failed"),
    [
        pytest.param(99_000, None, True, False, id="meets"),
        pytest.param(99_000, 10, True, False, id="meets, broke near the grip"),
        pytest.param(98_000, 10, False, False, id="discounted"),
        pytest.param(98_000, None, False, True, id="fails"),
    ],
)
def test_what_a_test_is_good_for(reel, peak_n, break_distance_mm, is_evidence, has_failed):
    given_breaking_test(
        sample=given_sample(reel=reel), peak_n=peak_n, break_distance_mm=break_distance_mm
    )
    found = only(reel)
    assert (found.is_evidence, found.has_failed) == (is_evidence, has_failed)


def test_without_a_calibration_a_test_is_no_evidence(reel):
    machine = given_machine(is_calibrated=False)
    given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000, machine=machine)
    found = only(reel)
    assert not found.is_evidence
    assert "No calibration" in found.doubts[0]


def test_a_calibration_recorded_later_does_not_heal_an_old_test(reel):
    machine = given_machine(is_calibrated=False)
    given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000, machine=machine)
    given_calibration(machine)
    assert not only(reel).is_evidence


def test_a_hold_on_the_machine_puts_its_tests_in_doubt_until_released(reel):
    machine = given_machine()
    given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000, machine=machine)
    hold = given_hold(machine)
    assert not only(reel).is_evidence
    release_hold(hold=hold, reason="checked, was right", by=given_person(), at=MOMENT)
    assert only(reel).is_evidence


def test_a_reel_without_tests_has_none(reel):
    assert on_rope(reel) == []
