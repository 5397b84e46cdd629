"""A sample breaks below the certified force: all rope of the mill's reel is worth less from now."""

import pytest

from certs.queries.derivation import certified_force
from certs.queries.tag_status import Standing, tag_answer
from certs.queries.waiting import waiting
from certs.services.reverse_test import reverse_test
from certs.services.tags import issue_tag
from inventory.services.rewind import rewind_reel
from tests.certs.claims import given_breaking_test
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.factories import MOMENT, given_person, given_piece, given_sample

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


class Failure:
    """A piece is sold at 98.9 kN; then a sample wound off the same reel breaks at 90 kN."""

    def __init__(self):
        self.reel = given_documented_reel()
        self.sold = given_piece(reel=self.reel)
        self.paper = issued(given_cut_length_draft(self.sold))
        self.tag = issue_tag(piece=self.sold, by=given_person(), at=MOMENT)
        self.wound = rewind_reel(
            reel=self.reel, from_mm=500_000, to_mm=700_000, by=given_person(), at=MOMENT
        )
        self.test = given_breaking_test(sample=given_sample(reel=self.wound), peak_n=90_000)

    def forces(self):
        return [str(certified_force(reel).stated) for reel in (self.reel, self.wound)]


@pytest.fixture
def failure():
    return Failure()


def test_both_reels_are_worth_what_the_sample_bore(failure):
    assert failure.forces() == ["90", "90"]


def test_the_derivation_names_the_test(failure):
    assert failure.test.code in " ".join(certified_force(failure.reel).remarks)


def test_the_tag_on_site_says_not_to_use_the_rope(failure):
    answer = tag_answer(failure.tag.code)
    assert answer.standing == Standing.DO_NOT_USE
    assert "lowered" in answer.reasons[0]


def test_a_new_paper_states_the_lower_force_and_the_old_one_is_unchanged(failure):
    new = issued(given_cut_length_draft(given_piece(reel=failure.reel)))
    assert '"stated":"90"' in new.snapshot
    failure.paper.refresh_from_db()
    assert '"stated":"98.9"' in failure.paper.snapshot


def test_the_failure_waits_for_the_qa_officer(failure):
    assert [test.code for test in waiting(on=MOMENT.date()).breaking_tests.rows] == [
        failure.test.code
    ]


def test_an_entry_for_the_wrong_reel_is_taken_back_and_all_is_as_before(failure):
    reverse_test(test=failure.test, reason="sample of R-7", by=given_person(), at=MOMENT)
    assert failure.forces() == ["98.9", "98.9"]
    assert tag_answer(failure.tag.code).standing == Standing.GOOD
