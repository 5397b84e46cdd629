"""A batch: each draft issued or told why not, taken up after a death, stopped between papers."""

from datetime import timedelta

import pytest

from certs.models import Certificate, IssueBatch
from certs.queries.audit.scratch import Scratch
from certs.queries.audit.series import series_without_gap
from certs.services import issue_batch
from certs.services.drafts import discard_draft
from certs.services.issue import issue_certificate
from certs.services.issue_batch import (
    MOST_DRAFTS,
    CannotBatch,
    settle_next,
    start_batch,
    stop_batch,
    take_up_batch,
)
from inventory.services.authority import NotAllowed
from tests.certs.papers import (
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
)
from tests.factories import MOMENT, given_piece

pytestmark = pytest.mark.usefixtures("tables")
LATER = MOMENT + timedelta(minutes=5)


def given_ready(count):
    reel = given_documented_reel()
    return [given_cut_length_draft(given_piece(reel=reel)) for _ in range(count)]


def started(drafts, by):
    return start_batch(draft_codes=[draft.draft_code for draft in drafts], by=by, at=MOMENT)


def worked(batch, by):
    while settle_next(batch=batch, by=by, at=MOMENT):
        pass
    batch.refresh_from_db()
    return [(line.outcome, line.number) for line in batch.lines.order_by("position")]


def test_what_is_ready_is_issued_and_what_lacks_something_says_what(qa_officer):
    lacking = given_cut_length_draft(given_piece())
    (ready,) = given_ready(1)
    batch = started([lacking, ready], qa_officer)
    told = worked(batch, qa_officer)
    ready.refresh_from_db()
    assert told == [("stayed", ""), ("issued", ready.number)]
    assert "Receiving check" in batch.lines.get(position=1).reason
    assert batch.finished_at == MOMENT


def test_a_death_in_the_middle_loses_nothing_and_doubles_nothing(qa_officer, monkeypatch):
    drafts = given_ready(3)
    batch = started(drafts, qa_officer)
    deaths = [0, 1]

    def dies_on_the_second(**asked):
        if deaths.pop(0):
            raise KeyboardInterrupt
        return issue_certificate(**asked)

    monkeypatch.setattr(issue_batch, "issue_certificate", dies_on_the_second)
    with pytest.raises(KeyboardInterrupt):
        worked(batch, qa_officer)
    outcomes = [line.outcome for line in batch.lines.order_by("position")]
    assert outcomes == ["issued", "waiting", "waiting"]
    monkeypatch.undo()
    take_up_batch(batch=batch, by=qa_officer, at=LATER)
    told = worked(batch, qa_officer)
    assert [outcome for outcome, _ in told] == ["issued"] * 3
    assert len({number for _, number in told}) == 3
    assert Certificate.objects.filter(state="issued").count() == 3


def test_a_death_after_the_paper_and_before_its_line_finds_its_number(qa_officer):
    (draft,) = given_ready(1)
    batch = started([draft], qa_officer)
    paper = issue_certificate(certificate=draft, by=qa_officer, at=MOMENT)
    assert worked(batch, qa_officer) == [("issued", paper.number)]


def test_what_the_program_fails_on_keeps_nobody_waiting(qa_officer, monkeypatch, caplog):
    first, second = given_ready(2)
    batch = started([first, second], qa_officer)

    def fails_on_the_first(*, certificate, **asked):
        if certificate.pk == first.pk:
            raise ZeroDivisionError
        return issue_certificate(certificate=certificate, **asked)

    monkeypatch.setattr(issue_batch, "issue_certificate", fails_on_the_first)
    assert [outcome for outcome, _ in worked(batch, qa_officer)] == ["stayed", "issued"]
    assert batch.lines.get(position=1).reason == issue_batch.TROUBLE
    assert "could not be issued" in caplog.text


def test_a_draft_thrown_away_since_is_told(qa_officer):
    (draft,) = given_ready(1)
    batch = started([draft], qa_officer)
    discard_draft(certificate=draft, by=qa_officer, at=MOMENT)
    assert worked(batch, qa_officer) == [("stayed", "")]
    assert batch.lines.get().reason == issue_batch.THROWN_AWAY


def test_a_stop_is_honoured_between_two_papers(qa_officer):
    batch = started(given_ready(3), qa_officer)
    assert settle_next(batch=batch, by=qa_officer, at=MOMENT)
    stop_batch(batch=batch, by=qa_officer, at=MOMENT)
    told = worked(batch, qa_officer)
    assert [outcome for outcome, _ in told] == ["issued", "left_out", "left_out"]
    assert Certificate.objects.filter(state="draft").count() == 2


def test_a_stop_where_nobody_works_ends_it_at_once(qa_officer):
    batch = started(given_ready(1), qa_officer)
    over = stop_batch(batch=batch, by=qa_officer, at=LATER)
    assert over.finished_at == LATER
    assert [line.outcome for line in batch.lines.all()] == ["left_out"]
    with pytest.raises(CannotBatch, match="over already"):
        stop_batch(batch=batch, by=qa_officer, at=LATER)


def test_it_issues_in_the_name_and_with_the_role_of_who_works_on_it(qa_officer, auditor):
    batch = started(given_ready(1), qa_officer)
    assert worked(batch, auditor) == [("stayed", "")]
    assert "auditor" in batch.lines.get().reason


def test_nobody_takes_up_what_is_being_worked_on(qa_officer):
    batch = started(given_ready(1), qa_officer)
    with pytest.raises(CannotBatch, match="being worked on"):
        take_up_batch(batch=batch, by=qa_officer, at=MOMENT + timedelta(seconds=60))
    assert take_up_batch(batch=batch, by=qa_officer, at=LATER).moved_at == LATER


@pytest.mark.parametrize(
    ("codes", "words"),
    [
        pytest.param([], "at least one", id="none"),
        pytest.param(["CD-99999"], "Not a draft.*CD-99999", id="unknown"),
        pytest.param([f"CD-{n:05}" for n in range(MOST_DRAFTS + 1)], "1000 drafts", id="too many"),
        pytest.param([f"CD-{n:05}" for n in range(12)], "CD-00009 and 2 more", id="many unknown"),
    ],
)
def test_what_is_no_batch_is_refused(codes, words, qa_officer):
    with pytest.raises(CannotBatch, match=words) as refused:
        start_batch(draft_codes=codes, by=qa_officer, at=MOMENT)
    assert refused.value.field == "drafts"
    assert not IssueBatch.objects.exists()


@pytest.mark.parametrize("act", [stop_batch, take_up_batch])
def test_only_who_issues_stops_and_takes_up(act, qa_officer, auditor):
    batch = started([given_cut_length_draft(given_certifiable_piece())], qa_officer)
    with pytest.raises(NotAllowed):
        act(batch=batch, by=auditor, at=LATER)
    with pytest.raises(NotAllowed):
        start_batch(draft_codes=["CD-00001"], by=auditor, at=MOMENT)


def test_the_audit_finds_a_batch_for_every_number_of_their_series(qa_officer):
    started(given_ready(1), qa_officer)
    with Scratch() as scratch:
        found = [one for one in series_without_gap(scratch) if one.where == "number series IB"]
        assert found == []
    IssueBatch.objects.all().delete()
    with Scratch() as scratch:
        found = [one for one in series_without_gap(scratch) if one.where == "number series IB"]
        assert len(found) == 1
