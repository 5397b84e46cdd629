"""What a machine must show for a proof load, from the calibration of the day."""

from datetime import date

import pytest

from certs.queries.force_asked import force_asked, force_asked_of
from tests.certs.claims import given_proof_test
from tests.factories import given_calibration, given_machine

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

DAY = date(2026, 6, 1)


def asked(**changes):
    values = {"day": DAY, "required_n": 40_000} | changes
    return force_asked(values.pop("machine", None) or given_machine(), **values)


def test_the_class_of_that_day_counts():
    machine = given_machine(is_calibrated=False)
    given_calibration(machine, machine_class="2", calibrated_date=date(2025, 1, 10))
    given_calibration(machine, machine_class="0.5", calibrated_date=date(2026, 1, 10))
    # q = 2 % (from memory) before, 0.5 % (read) since.
    assert asked(machine=machine, day=date(2025, 6, 1)).shown.least.stated == 40_800
    assert asked(machine=machine).shown.least.stated == 40_200


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        pytest.param({"day": date(2027, 2, 1)}, "was due on", id="after the calibration was due"),
        pytest.param({"required_n": 600_000}, "outside the verified range", id="out of range"),
        pytest.param({"ceiling_n": 600_000}, "outside the verified range", id="limit out of range"),
    ],
)
def test_what_would_keep_a_test_from_counting_is_told_before(changes, words):
    assert words in " ".join(asked(**changes).problems)


def test_a_machine_that_fits_has_no_problem():
    found = asked()
    assert (found.problems, found.notes) == ((), ())


def test_a_recorded_test_tells_the_bounds_of_its_own_calibration():
    test = given_proof_test(required_n=40_000, ceiling_n=42_000)
    shown = force_asked_of(test).shown
    assert (shown.least.stated, shown.most.stated) == (40_400, 41_580)
