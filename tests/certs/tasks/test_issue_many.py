"""The background task works on a batch until it is over, in the name of who asked."""

import pytest

from certs.models import Certificate
from certs.services.issue_batch import start_batch
from certs.tasks.issue_many import issue_many
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft
from tests.factories import MOMENT, given_piece

pytestmark = pytest.mark.usefixtures("tables")


def given_batch(by):
    ready = given_cut_length_draft(given_certifiable_piece())
    lacking = given_cut_length_draft(given_piece())
    codes = [lacking.draft_code, ready.draft_code]
    return start_batch(draft_codes=codes, by=by, at=MOMENT)


def test_it_issues_what_is_ready_and_ends_the_batch(qa_officer):
    batch = given_batch(qa_officer)
    issue_many.call(batch.code, qa_officer.username)
    batch.refresh_from_db()
    assert [line.outcome for line in batch.lines.order_by("position")] == ["stayed", "issued"]
    assert batch.finished_at is not None


def test_a_second_run_issues_nothing_twice(qa_officer):
    batch = given_batch(qa_officer)
    for _ in range(2):
        issue_many.call(batch.code, qa_officer.username)
    assert Certificate.objects.filter(state="issued").count() == 1


def test_it_acts_with_the_role_of_who_asked(qa_officer, auditor):
    batch = given_batch(qa_officer)
    issue_many.call(batch.code, auditor.username)
    assert not Certificate.objects.filter(state="issued").exists()
