"""The record of a maker: what belongs together, what is left out, and in which order."""

from datetime import timedelta
from decimal import Decimal

import pytest

from certs.queries.maker_record import maker_record, maker_records, mill_of_code
from certs.rules.breaking_test import PLACE_UNKNOWN
from certs.rules.derived import Gap
from certs.rules.maker_record import MakerFigures, Standing
from certs.services.reverse_test import reverse_test
from tests.certs.claims import given_basis, given_breaking_test
from tests.factories import (
    MOMENT,
    ROPE,
    given_customer,
    given_hold,
    given_machine,
    given_mill,
    given_person,
    given_reel,
    given_sample,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]
# The factor of 6x7 with a strand core asks for 98.9 kN of 12 mm at 1770 (EN 12385-2).
REQUIRED_N = 98_900


def broken(reel, *peaks_n, **said):
    return [
        given_breaking_test(sample=given_sample(reel=reel), peak_n=peak_n, **said)
        for peak_n in peaks_n
    ]


def given_rope(**said):
    reel = given_reel(**said)
    given_basis(reel)
    return reel


def record_of(reel):
    return maker_record(mill=reel.mill, designation=reel.designation)


def standings(reel):
    return [point.result.standing for point in record_of(reel).points]


def test_results_are_measured_over_required():
    reel = given_rope()
    broken(reel, 108_790)
    (point,) = record_of(reel).points
    assert (point.result.ratio, point.result.standing) == (Decimal("1.1000"), Standing.MEETS)
    assert point.test.required_n == REQUIRED_N


def test_another_mill_is_another_record():
    one, other = given_rope(), given_rope(mill=given_mill("Another invented mill"))
    broken(one, 100_000)
    broken(other, 101_000, 102_000)
    assert (len(record_of(one).points), len(record_of(other).points)) == (1, 2)


def test_another_designation_is_another_record():
    mill = given_mill()
    one, other = given_rope(mill=mill), given_rope(mill=mill, designation="12 6x7-WSC 1770 U sZ")
    broken(one, 100_000)
    broken(other, 101_000)
    assert {entry.designation for entry in maker_records()} == {one.designation, other.designation}
    assert len(record_of(one).points) == 1


def test_a_reversed_test_never_was():
    reel = given_rope()
    wrong, _ = broken(reel, 100_000, 101_000)
    reverse_test(
        test=wrong, reason="the wrong sample", by=given_person(), at=MOMENT + timedelta(hours=1)
    )
    assert wrong.code not in {point.test.code for point in record_of(reel).points}


def test_breaks_near_a_grip_are_bounds_or_discounted():
    reel = given_rope()
    broken(reel, 100_000, 90_000, break_distance_mm=10)
    assert standings(reel) == [Standing.LOWER_BOUND, Standing.DISCOUNTED]


def test_a_pass_without_a_place_is_no_exact_result_and_says_why():
    reel = given_rope()
    broken(reel, 100_000, 90_000, is_break_place_known=False)
    assert standings(reel) == [Standing.PLACE_UNKNOWN, Standing.FAILS]
    assert [point.doubts for point in record_of(reel).points] == [(PLACE_UNKNOWN,)] * 2
    (entry,) = maker_records()
    assert (entry.tests, entry.counted, entry.exact, entry.failed) == (2, 1, 1, 1)


def test_a_failure_stands_in_the_record():
    reel = given_rope()
    broken(reel, 90_000)
    assert standings(reel) == [Standing.FAILS]


def test_a_machine_that_supports_nothing_leaves_the_result_in_doubt():
    reel = given_rope()
    broken(reel, 100_000, machine=given_machine(is_calibrated=False))
    (point,) = record_of(reel).points
    assert point.result.standing is Standing.IN_DOUBT
    assert point.doubts


def test_a_machine_on_hold_leaves_the_result_in_doubt():
    reel, machine = given_rope(), given_machine()
    broken(reel, 100_000, machine=machine)
    hold = given_hold(machine)
    (point,) = record_of(reel).points
    assert point.result.standing is Standing.IN_DOUBT
    assert hold.code in point.doubts[0]


def test_five_results_give_figures():
    reel = given_rope()
    broken(reel, 101_000, 103_000, 104_000, 102_000)
    asked = {"coverage": Decimal("0.95"), "confidence": Decimal("0.95")}
    assert isinstance(record_of(reel).figures(**asked), Gap)
    broken(reel, 105_000)
    figures = record_of(reel).figures(**asked)
    assert isinstance(figures, MakerFigures)
    # 515 kN in five tests over five times 98.9 kN.
    assert float(figures.chart.centre.stated) == pytest.approx(515 / (5 * 98.9), abs=1e-4)


def test_the_list_counts_what_counts():
    reel = given_rope()
    broken(reel, 101_000, 90_000)
    broken(reel, 102_000, 80_000, break_distance_mm=5)
    (entry,) = maker_records()
    assert (entry.tests, entry.counted, entry.exact, entry.failed) == (4, 3, 2, 1)
    assert not entry.is_enough


@pytest.mark.parametrize("count", [1, 6])
def test_it_takes_two_queries_however_many_tests(count, django_assert_num_queries):
    reel = given_rope()
    broken(reel, *[100_000] * count)
    with django_assert_num_queries(2):
        maker_records()
    with django_assert_num_queries(2):
        assert record_of(reel).points


def test_nothing_was_broken():
    assert maker_records() == []
    assert maker_record(mill=given_mill(), designation=ROPE).points == ()


def test_a_mill_is_found_by_its_code_and_nobody_else():
    mill, customer = given_mill(), given_customer()
    assert mill_of_code(mill.code) == mill
    assert mill_of_code(customer.code) is None
