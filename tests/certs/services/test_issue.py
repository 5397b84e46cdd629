"""Issuing: one whole or nothing, a gapless number, a frozen row."""

import json
from datetime import UTC, datetime

import pytest
from django.db import DatabaseError, connection, transaction

from certs.models import Certificate, CertificatePiece, Tag
from certs.services import issue as issue_module
from certs.services.drafts import draft_correction, wording_of
from certs.services.issue import CannotIssue, issue_certificate
from certs.services.withdraw import withdraw_certificate
from inventory.models import JournalEntry, NumberSeries, StoredFile
from inventory.queries.kept_files import read_file
from inventory.rules.canonical import canonical_text, sha256_hex
from inventory.services.authority import NotAllowed
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_breaking_draft,
    given_certifiable_assembly,
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
    given_representative,
    issued,
)
from tests.factories import MOMENT, given_hold, given_piece, given_reel, given_sample

pytestmark = pytest.mark.usefixtures("tables")


def test_the_number_counts_up_in_its_series_and_year():
    numbers = [issued(given_cut_length_draft(given_certifiable_piece())).number for _ in range(2)]
    assert numbers == ["CL-2026-00001", "CL-2026-00002"]


def test_a_new_year_begins_a_new_series(qa_officer):
    issued(given_cut_length_draft())
    draft = given_cut_length_draft(given_certifiable_piece())
    later = issue_certificate(certificate=draft, by=qa_officer, at=datetime(2027, 1, 4, tzinfo=UTC))
    assert later.number == "CL-2027-00001"


def test_the_snapshot_is_canonical_and_its_hash_is_kept():
    certificate = issued(given_cut_length_draft())
    assert canonical_text(json.loads(certificate.snapshot)) == certificate.snapshot
    assert certificate.snapshot_sha256 == sha256_hex(certificate.snapshot.encode())


def test_the_pdf_is_kept_under_its_hash():
    certificate = issued(given_cut_length_draft())
    assert sha256_hex(read_file(certificate.pdf)) == certificate.pdf_sha256


def test_the_journal_binds_snapshot_and_pdf():
    certificate = issued(given_cut_length_draft())
    entry = JournalEntry.objects.get(act="issue_certificate")
    detail = json.loads(entry.canonical)["detail"]
    assert entry.subject == certificate.number
    assert detail["snapshot_sha256"] == certificate.snapshot_sha256
    assert detail["pdf_sha256"] == certificate.pdf_sha256


def test_the_certificate_gets_a_code_of_its_own():
    certificate = issued(given_cut_length_draft())
    code = certificate.tags.get().code
    assert json.loads(certificate.snapshot)["tag"]["address"].endswith(f"/T/{code}")


@pytest.mark.parametrize("person", ["stores_hand", "bench_hand", "auditor", "representative"])
def test_only_the_qa_officer_issues(person, request):
    draft = given_cut_length_draft()
    with pytest.raises(NotAllowed):
        issue_certificate(certificate=draft, by=request.getfixturevalue(person), at=MOMENT)
    draft.refresh_from_db()
    assert draft.state == "draft"


def test_rope_without_a_named_basis_cannot_be_certified():
    with pytest.raises(CannotIssue, match="Breaking force"):
        issued(given_cut_length_draft(given_piece()))


def test_a_refused_issue_takes_no_number_and_leaves_no_paper():
    with pytest.raises(CannotIssue):
        issued(given_cut_length_draft(given_piece(reel=given_reel())))
    assert not NumberSeries.objects.filter(series="CL-2026").exists()
    assert not Tag.objects.exists()
    assert not StoredFile.objects.filter(name__startswith="CL-").exists()


def test_held_rope_cannot_be_certified():
    piece = given_certifiable_piece()
    hold = given_hold(piece.reel)
    with pytest.raises(CannotIssue, match=hold.code):
        issued(given_cut_length_draft(piece))


def test_an_assembly_with_a_passed_proof_load_gets_a_31():
    assembly = given_certifiable_assembly()
    test = given_proof_test(assembly=assembly)
    certificate = issued(given_assembly_draft(assembly, first_validator=given_representative()))
    assert certificate.number == "AT-2026-00001"
    assert [tie.proof_test for tie in certificate.proof_test_ties.all()] == [test]


def test_a_31_needs_an_inspection_representative():
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    with pytest.raises(CannotIssue, match="representative"):
        issued(given_assembly_draft(assembly))


def test_a_31_needs_a_proof_load():
    draft = given_assembly_draft(
        given_certifiable_assembly(), first_validator=given_representative()
    )
    with pytest.raises(CannotIssue, match="Kind of document"):
        issued(draft)


def test_a_breaking_test_is_reported_on_its_sample():
    sample = given_sample(reel=given_documented_reel())
    certificate = issued(given_breaking_draft(given_breaking_test(sample=sample, peak_n=105_000)))
    report = json.loads(certificate.snapshot)["breaking_tests"][0]
    assert (report["sample"], report["peak_n"]) == (sample.code, 105_000)


def test_a_correction_supersedes_in_the_same_act(qa_officer):
    old = issued(given_cut_length_draft())
    draft = draft_correction(
        certificate=old, reason="wrong order", wording=wording_of(old), by=qa_officer, at=MOMENT
    )
    new = issued(draft)
    old.refresh_from_db()
    assert (old.state, old.end_reason) == ("superseded", f"Replaced by {new.number}: wrong order")
    assert json.loads(new.snapshot)["replaces"] == {
        "number": old.number,
        "reason": "wrong order",
    }


def test_the_longest_reason_for_a_correction_can_be_issued(qa_officer):
    old = issued(given_cut_length_draft())
    reason = "x" * 300
    draft = draft_correction(
        certificate=old, reason=reason, wording=wording_of(old), by=qa_officer, at=MOMENT
    )
    new = issued(draft)
    old.refresh_from_db()
    assert old.end_reason == f"Replaced by {new.number}: {reason}"


def test_an_issued_certificate_is_not_issued_again():
    certificate = issued(given_cut_length_draft())
    with pytest.raises(CannotIssue, match="only a draft"):
        issued(certificate)


def test_a_number_taken_meanwhile_is_noticed_and_the_paper_printed_anew(monkeypatch):
    """Another writer takes the number between the look and the lock."""
    looks = iter([1, 2, 2, 2])
    first = issued(given_cut_length_draft(given_certifiable_piece()))
    monkeypatch.setattr(issue_module, "next_number", lambda _series: next(looks))
    second = issued(given_cut_length_draft(given_certifiable_piece()))
    assert (first.number, second.number) == ("CL-2026-00001", "CL-2026-00002")
    assert json.loads(second.snapshot)["number"] == second.number


def test_the_last_attempt_prints_under_the_lock(monkeypatch):
    monkeypatch.setattr(issue_module, "next_number", lambda _series: 99)
    certificate = issued(given_cut_length_draft())
    assert certificate.number == "CL-2026-00001"
    assert json.loads(certificate.snapshot)["number"] == "CL-2026-00001"


def test_the_series_has_no_gap_after_failed_attempts(monkeypatch):
    monkeypatch.setattr(issue_module, "next_number", lambda _series: 99)
    for _ in range(2):
        issued(given_cut_length_draft(given_certifiable_piece()))
    numbers = Certificate.objects.order_by("number").values_list("number", flat=True)
    assert list(numbers) == ["CL-2026-00001", "CL-2026-00002"]


@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("snapshot", "'{}'"),
        ("pdf_sha256", "'" + "0" * 64 + "'"),
        ("number", "'CL-2026-99999'"),
        ("customer_reference", "'another'"),
        ("state", "'draft'"),
    ],
)
def test_the_database_refuses_any_change_to_an_issued_certificate(column, value):
    certificate = issued(given_cut_length_draft())
    sql = f"UPDATE certs_certificate SET {column} = {value} WHERE id = {certificate.pk}"  # noqa: S608 -- raw SQL is the point
    with pytest.raises(DatabaseError, match="guard"), transaction.atomic():
        connection.cursor().execute(sql)


def test_the_database_refuses_to_delete_an_issued_certificate():
    certificate = issued(given_cut_length_draft())
    with pytest.raises(DatabaseError), transaction.atomic():
        connection.cursor().execute("DELETE FROM certs_certificate WHERE id = %s", [certificate.pk])


def test_the_database_refuses_another_piece_on_an_issued_certificate():
    certificate = issued(given_cut_length_draft())
    tie = CertificatePiece(certificate=certificate, piece=given_piece(), position=9)
    with pytest.raises(DatabaseError, match="certs_certificatepiece_is_not_added"):
        CertificatePiece.objects.bulk_create([tie])


def test_a_withdrawn_certificate_stays_withdrawn(qa_officer):
    certificate = issued(given_cut_length_draft())
    withdraw_certificate(certificate=certificate, reason="wrong rope", by=qa_officer, at=MOMENT)
    with pytest.raises(DatabaseError, match="guard"), transaction.atomic():
        Certificate.objects.filter(pk=certificate.pk).update(state="issued")


def test_year_and_day_are_those_of_the_house_not_of_greenwich(settings, qa_officer):
    settings.TIME_ZONE = "Asia/Tokyo"
    new_year = datetime(2026, 12, 31, 16, tzinfo=UTC)  # 1 January, one o'clock, in Tokyo
    late = issue_certificate(certificate=given_cut_length_draft(), by=qa_officer, at=new_year)
    assert late.number == "CL-2027-00001"


def holds_meanwhile(monkeypatch, reel, *, times):
    """Somebody's hold gets the journal's head before the issuing does, so many times."""
    append, left = issue_module.append, [times]

    def after_a_hold(**entry):
        if left[0]:
            left[0] -= 1
            given_hold(reel)
        return append(**entry)

    monkeypatch.setattr(issue_module, "append", after_a_hold)


def test_a_paper_overtaken_by_a_hold_is_made_anew(monkeypatch, qa_officer):
    piece = given_certifiable_piece()
    holds_meanwhile(monkeypatch, piece.reel, times=1)
    # Here the hold is of the same transaction and undone with it, so that the second try goes on.
    done = issue_certificate(certificate=given_cut_length_draft(piece), by=qa_officer, at=MOMENT)
    assert (done.number, JournalEntry.objects.filter(act="place_hold").count()) == (
        "CL-2026-00001",
        0,
    )


def test_a_paper_overtaken_every_time_is_not_issued(monkeypatch, qa_officer):
    piece = given_certifiable_piece()
    draft = given_cut_length_draft(piece)
    holds_meanwhile(monkeypatch, piece.reel, times=99)
    with pytest.raises(CannotIssue, match="at this very moment"):
        issue_certificate(certificate=draft, by=qa_officer, at=MOMENT)
    draft.refresh_from_db()
    assert draft.state == "draft"
