"""Papers in force that state more than a failed test leaves: found, told, and never changed."""

import json
from datetime import timedelta

import pytest

from certs.models import Certificate
from certs.queries.papers_affected import (
    papers_affected,
    papers_affected_by,
    papers_affected_on,
)
from certs.queries.strength import assembly_strength
from certs.rules.derived import plain
from certs.services.reverse_test import reverse_test
from certs.services.withdraw import withdraw_certificate
from inventory.services.rewind import rewind_reel
from tests.certs.claims import given_breaking_test
from tests.certs.papers import (
    given_assembly_draft,
    given_breaking_draft,
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
    issued,
)
from tests.factories import (
    MOMENT,
    given_assembly,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

# 12 6x7-WSC 1770: 98.9 kN (K = 0.388, EN 12385-2).
WEAK_N = 90_000


@pytest.fixture
def reel():
    return given_documented_reel()


def fail(reel, *, peak_n=WEAK_N, hours=0):
    return given_breaking_test(
        sample=given_sample(reel=reel), peak_n=peak_n, tested_at=MOMENT + timedelta(hours=hours)
    )


def paper_on(reel):
    return issued(given_cut_length_draft(given_piece(reel=reel)))


def sling_paper(*reels):
    """A declaration 2.1 for a sling of one leg, or of two from two reels."""
    kind = "one_leg" if len(reels) == 1 else "two_leg"
    pieces = [given_piece(reel=reel, length_m=6) for reel in reels]
    return issued(given_assembly_draft(given_assembly(kind=kind, pieces=pieces), kind="2.1"))


def numbers(papers):
    return [paper.number for paper in papers]


def test_a_paper_on_the_reel_is_told_with_both_values(reel):
    certificate = paper_on(reel)
    test = fail(reel)
    (paper,) = papers_affected_by(test)
    assert paper.number == certificate.number
    assert paper.customer_code == certificate.customer.code
    assert paper.tag_code in certificate.snapshot
    assert paper.tests == (test.code,)
    (found,) = paper.overstated
    assert (found.stated, found.supported) == ("98.9 kN", "90 kN")
    assert reel.code in found.quantity


def test_nothing_is_changed(reel):
    certificate = paper_on(reel)
    before = Certificate.objects.values().get(pk=certificate.pk)
    fail(reel)
    papers_affected()
    assert Certificate.objects.values().get(pk=certificate.pk) == before


def test_rope_wound_from_the_reel_is_of_it(reel):
    wound = rewind_reel(reel=reel, from_mm=100_000, to_mm=300_000, by=given_person(), at=MOMENT)
    certificate = paper_on(wound)
    test = fail(reel)
    for found in (papers_affected(), papers_affected_by(test), papers_affected_on(wound)):
        assert numbers(found) == [certificate.number]


def test_a_sample_of_the_wound_part_speaks_of_the_whole(reel):
    wound = rewind_reel(reel=reel, from_mm=100_000, to_mm=300_000, by=given_person(), at=MOMENT)
    certificate = paper_on(reel)
    fail(wound)
    assert numbers(papers_affected_on(reel)) == [certificate.number]


def test_other_rope_is_not_told(reel):
    issued(given_cut_length_draft(given_certifiable_piece()))
    test = fail(reel)
    assert papers_affected_by(test) == []
    assert papers_affected() == []


def rated_anew(certificate):
    """Stated and today's value of each rating that is no longer what the paper states."""
    today = assembly_strength(certificate.assembly)
    now = [*(f"{plain(load.rating.governing_t)} t" for load in today.loads), today.force.text]
    ratings = json.loads(certificate.snapshot)["assembly"]["ratings"]
    stated = [f"{rating['stated']} {rating['unit']}" for rating in ratings]
    return [pair for pair in zip(stated, now, strict=True) if pair[0] != pair[1]]


def told_of_ratings(paper):
    return [(one.stated, one.supported) for one in paper.overstated if "rope" not in one.quantity]


def test_what_the_ratings_of_a_sling_come_to_is_what_it_would_be_rated_today(reel):
    certificate = sling_paper(reel)
    fail(reel)
    (paper,) = papers_affected()
    assert told_of_ratings(paper) == rated_anew(certificate)
    assert told_of_ratings(paper)


def test_a_leg_that_did_not_govern_lowers_the_sling_too():
    # The second reel is declared lower and governs, until the first fails below it.
    strong, weak = given_documented_reel(), given_documented_reel(declared_force_n=96_000)
    certificate = sling_paper(strong, weak)
    fail(strong)
    (paper,) = papers_affected()
    assert told_of_ratings(paper) == rated_anew(certificate)
    assert told_of_ratings(paper)


def test_a_leg_that_stays_above_the_governing_one_changes_only_the_rope(reel):
    weak = given_documented_reel(declared_force_n=80_000)
    sling_paper(reel, weak)
    fail(reel)
    (paper,) = papers_affected()
    assert [one.quantity for one in paper.overstated] == [
        f"minimum breaking force of the rope of reel {reel.code}"
    ]


def test_a_report_of_an_earlier_break_states_the_force_too(reel):
    first = given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000)
    report = issued(given_breaking_draft(first))
    assert numbers(papers_affected()) == []
    fail(reel, hours=1)
    assert numbers(papers_affected()) == [report.number]


def test_a_paper_issued_after_the_failure_states_no_more(reel):
    fail(reel)
    paper_on(reel)
    assert papers_affected() == []


def test_the_lowest_of_several_failures_counts_and_all_are_named(reel):
    paper_on(reel)
    first, second = fail(reel), fail(reel, peak_n=85_000, hours=1)
    (paper,) = papers_affected()
    assert paper.overstated[0].supported == "85 kN"
    assert paper.tests == (second.code, first.code)
    (by_first,) = papers_affected_by(first)
    assert by_first.overstated[0].supported == "90 kN"


def test_a_paper_that_is_withdrawn_is_told_no_more(reel):
    certificate = paper_on(reel)
    fail(reel)
    withdraw_certificate(
        certificate=certificate, reason="the rope is weaker", by=given_person(), at=MOMENT
    )
    assert papers_affected() == []


def test_a_reversed_failure_affects_nothing(reel):
    paper_on(reel)
    test = fail(reel)
    reverse_test(test=test, reason="wrong sample", by=given_person(), at=MOMENT)
    assert papers_affected() == []
    assert papers_affected_by(test) == []


@pytest.mark.parametrize("peak_n", [99_000, 98_900])
def test_a_test_that_did_not_fail_affects_nothing(reel, peak_n):
    paper_on(reel)
    test = fail(reel, peak_n=peak_n)
    assert papers_affected_by(test) == []


@pytest.mark.parametrize("count", [1, 3])
def test_the_number_of_queries_does_not_grow(count, django_assert_num_queries):
    for _ in range(count):
        reel = given_documented_reel()
        paper_on(reel)
        sling_paper(reel)
        fail(reel)
    with django_assert_num_queries(5):
        assert len(papers_affected()) == 2 * count


def test_with_no_failed_test_a_single_query_tells_it(django_assert_max_num_queries):
    given_reel()
    with django_assert_max_num_queries(3):
        assert papers_affected() == []
