from datetime import timedelta

import pytest

from certs.queries.failures_to_judge import failures_to_judge
from certs.queries.papers_affected import papers_affected
from certs.services.specify import name_basis
from inventory.services.rewind import rewind_reel
from tests.certs.claims import given_breaking_test, given_factor
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.factories import MOMENT, given_machine, given_person, given_piece, given_sample

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]
LATER = MOMENT + timedelta(days=1)


def to_judge():
    return [test.code for test in failures_to_judge(papers_affected())]


def named_anew(reel):
    name_basis(
        reel=reel,
        kind="factor",
        factor=given_factor("6x7", "WSC"),
        reason="looked over after the failure",
        by=given_person(),
        at=LATER,
    )


@pytest.fixture
def reel():
    return given_documented_reel()


@pytest.fixture
def failed(reel):
    return given_breaking_test(sample=given_sample(reel=reel), peak_n=90_000)


def test_a_failure_waits(failed):
    assert to_judge() == [failed.code]


@pytest.mark.parametrize(
    ("peak_n", "machine", "waits"),
    [
        pytest.param(99_500, {}, False, id="it-held"),
        pytest.param(95_000, {}, True, id="it-failed-too"),
        pytest.param(99_500, {"is_calibrated": False}, True, id="on-a-machine-in-doubt"),
    ],
)
def test_a_sample_broken_later_answers_it_if_it_held(reel, failed, peak_n, machine, waits):
    given_breaking_test(
        sample=given_sample(reel=reel),
        peak_n=peak_n,
        tested_at=LATER,
        machine=given_machine(**machine),
    )
    assert (failed.code in to_judge()) is waits


def test_a_sample_broken_before_answers_nothing(reel):
    given_breaking_test(sample=given_sample(reel=reel), peak_n=99_500)
    failed = given_breaking_test(sample=given_sample(reel=reel), peak_n=90_000, tested_at=LATER)
    assert to_judge() == [failed.code]


def test_a_basis_named_anew_answers_it_wherever_the_rope_was_wound(reel, failed):
    wound = rewind_reel(reel=reel, from_mm=500_000, to_mm=700_000, by=given_person(), at=MOMENT)
    named_anew(wound)
    assert to_judge() == []


def test_a_basis_of_other_rope_answers_nothing(failed):
    named_anew(given_documented_reel())
    assert to_judge() == [failed.code]


def test_it_waits_while_a_paper_in_force_states_more_whatever_was_named_since(reel):
    issued(given_cut_length_draft(given_piece(reel=reel)))
    failed = given_breaking_test(sample=given_sample(reel=reel), peak_n=90_000)
    named_anew(reel)
    assert to_judge() == [failed.code]


def test_the_number_of_questions_does_not_grow_with_the_failures(
    reel, failed, django_assert_max_num_queries
):
    with django_assert_max_num_queries(20) as one:
        failures_to_judge([])
    given_breaking_test(sample=given_sample(reel=given_documented_reel()), peak_n=80_000)
    with django_assert_max_num_queries(len(one)):
        failures_to_judge([])
