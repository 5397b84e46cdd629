"""Repeating a discounted break: what is taken as the retest, and what is refused."""

from datetime import timedelta

import pytest

from certs.models import BreakingTest
from certs.queries.breaking_records import breaking_record_of
from certs.rules.breaking_record import BreakingStanding as Standing
from certs.services.record_tests import CannotRecord
from certs.services.reverse_test import reverse_test
from inventory.models import JournalEntry
from inventory.services.rewind import rewind_reel
from tests.certs.claims import given_basis, given_breaking_test
from tests.factories import (
    MOMENT,
    given_machine,
    given_person,
    given_reel,
    given_sample,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

# 12 6x7-WSC 1770: 0.388 × 12² × 1770 = 98.9 kN to three figures (K: EN 12385-2).
ENOUGH_N, TOO_LITTLE_N = 99_000, 90_000
LATER = MOMENT + timedelta(hours=1)


@pytest.fixture
def reel():
    reel = given_reel()
    given_basis(reel)
    return reel


@pytest.fixture
def discounted(reel):
    """Broke 10 mm from a grip, less than six diameters of 12 mm (ISO 3108:2017)."""
    return given_breaking_test(
        sample=given_sample(reel=reel), peak_n=TOO_LITTLE_N, break_distance_mm=10
    )


def repeat(discounted, reel, **said):
    values = {
        "sample": said.pop("sample", None) or given_sample(reel=reel),
        "peak_n": ENOUGH_N,
        "tested_at": LATER,
        "retest_of": discounted,
    }
    return given_breaking_test(**(values | said))


def test_a_retest_names_what_it_repeats_and_settles_it(discounted, reel):
    assert breaking_record_of(reel).standing is Standing.OPEN
    test = repeat(discounted, reel)
    assert test.retest_of == discounted
    found = breaking_record_of(reel)
    assert (found.standing, found.open_tests) == (Standing.PROVED, ())
    assert f"settled by {test.code}" in found.reasons[0]


def test_the_journal_says_what_was_repeated(discounted, reel):
    test = repeat(discounted, reel)
    entry = JournalEntry.objects.order_by("number").last()
    assert entry.subject == test.code
    assert f'"retest_of":"{discounted.code}"' in entry.canonical


def test_a_retest_that_fails_derates(discounted, reel):
    repeat(discounted, reel, peak_n=95_000)
    found = breaking_record_of(reel)
    assert (found.standing, found.derated_n, found.open_tests) == (
        Standing.FAILED,
        95_000,
        (),
    )


def test_a_retest_may_be_cut_from_the_same_rope_wound_elsewhere(discounted, reel):
    wound = rewind_reel(reel=reel, from_mm=100_000, to_mm=200_000, by=given_person(), at=MOMENT)
    assert repeat(discounted, wound).retest_of == discounted
    assert breaking_record_of(wound).standing is Standing.PROVED


@pytest.mark.parametrize(
    ("peak_n", "break_distance_mm"),
    [
        pytest.param(ENOUGH_N, None, id="a pass"),
        pytest.param(ENOUGH_N, 10, id="a pass near the grip"),
        pytest.param(TOO_LITTLE_N, None, id="a failure"),
    ],
)
def test_only_a_discounted_test_is_repeated(reel, peak_n, break_distance_mm):
    first = given_breaking_test(
        sample=given_sample(reel=reel), peak_n=peak_n, break_distance_mm=break_distance_mm
    )
    refused(first, reel, field="retest_of", words="was not discounted")


def test_other_rope_is_no_retest(discounted):
    other = given_reel()
    given_basis(other)
    refused(discounted, other, field="retest_of", words="another mill reel")


def test_the_same_sample_is_no_retest(discounted, reel):
    refused(discounted, reel, sample=discounted.sample, field="sample", words="cut another")


def test_a_retest_comes_later(discounted, reel):
    refused(discounted, reel, tested_at=MOMENT, field="tested_at", words="comes after")


def test_a_reversed_test_is_not_repeated(discounted, reel):
    reverse_test(test=discounted, reason="typed twice", by=given_person(), at=MOMENT)
    refused(discounted, reel, field="retest_of", words="was reversed")


def test_a_test_is_repeated_once_and_a_later_pass_settles_it_when_that_was_reversed(
    discounted, reel
):
    first = repeat(discounted, reel)
    refused(discounted, reel, field="retest_of", words=f"{first.code} is on record as the retest")
    reverse_test(test=first, reason="wrong sample typed", by=given_person(), at=LATER)
    assert breaking_record_of(reel).standing is Standing.OPEN
    refused(discounted, reel, field="retest_of", words="without naming one")
    repeat(None, reel)
    assert breaking_record_of(reel).standing is Standing.PROVED


def test_a_retest_on_a_machine_in_doubt_settles_nothing(discounted, reel):
    repeat(discounted, reel, machine=given_machine(is_calibrated=False))
    found = breaking_record_of(reel)
    assert found.open_tests == (discounted.code,)
    assert "It supports nothing: No calibration" in found.reasons[1]


def refused(discounted, reel, *, field, words, **said):
    said.setdefault("sample", given_sample(reel=reel))
    said.setdefault("machine", given_machine())
    tests, entries = BreakingTest.objects.count(), JournalEntry.objects.count()
    with pytest.raises(CannotRecord, match=words) as error:
        repeat(discounted, reel, **said)
    assert error.value.field == field
    assert (BreakingTest.objects.count(), JournalEntry.objects.count()) == (tests, entries)
