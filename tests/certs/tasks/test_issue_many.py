"""The background task issues what is ready and leaves the rest as drafts."""

import pytest

from certs.models import Certificate
from certs.tasks.issue_many import issue_many
from inventory.services.authority import NotAllowed
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft
from tests.factories import given_piece

pytestmark = pytest.mark.usefixtures("tables")


def test_what_is_ready_is_issued_and_the_rest_stays_a_draft(qa_officer):
    ready = given_cut_length_draft(given_certifiable_piece())
    lacking = given_cut_length_draft(given_piece())
    outcome = issue_many.call([lacking.draft_code, ready.draft_code], qa_officer.username)
    ready.refresh_from_db()
    assert outcome == {"issued": [ready.number], "stayed": [lacking.draft_code]}


def test_a_second_run_issues_nothing_twice(qa_officer):
    draft = given_cut_length_draft(given_certifiable_piece())
    issue_many.call([draft.draft_code], qa_officer.username)
    again = issue_many.call([draft.draft_code], qa_officer.username)
    assert again == {"issued": [], "stayed": []}
    assert Certificate.objects.filter(state="issued").count() == 1


def test_it_acts_with_the_role_of_who_asked(auditor):
    draft = given_cut_length_draft(given_certifiable_piece())
    with pytest.raises(NotAllowed):
        issue_many.call([draft.draft_code], auditor.username)
