"""Sealed papers get a later time stamp before the last one ends: once, whole, and on record."""

import io
import json
from datetime import timedelta

import pytest
from django.core.files.storage import default_storage
from django.core.management import call_command
from pyhanko.sign.timestamps import TimestampRequestError

from certs.documents.pdf_check import check_pdf
from certs.management.commands import renew_papers as command
from certs.models import PaperRenewal
from certs.services import renew_paper as service
from certs.services import sealing
from certs.services.renew_paper import CannotRenew, papers_due, renew_paper
from inventory.models import JournalEntry, StoredFile
from inventory.queries.kept_files import FileIsNotAsKept, read_file
from inventory.queries.signing_keys import paper_chains
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from tests.certs.documents.signing import STAMPER_LASTS
from tests.certs.papers import given_cut_length_draft, issued
from tests.certs.services.clocks import clocks_of
from tests.factories import MOMENT, given_person, pdf_bytes

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

# Lists of the pretended services are good for 35 days, and 90 are kept in hand.
DUE = MOMENT + STAMPER_LASTS - timedelta(days=125)


@pytest.fixture(autouse=True)
def plain_paper(monkeypatch):
    monkeypatch.setattr(
        "certs.services.print_certificate.certificate_pdf",
        lambda _snapshot, *, canonical, credential, **_: pdf_bytes(canonical + credential),
    )


@pytest.fixture
def clocks(tmp_path, settings, monkeypatch):
    with clocks_of(settings, monkeypatch, tmp_path / "clocks.pem") as clocks:
        clocks.begin(at=MOMENT)
        yield clocks


@pytest.fixture
def paper(clocks):
    return issued(given_cut_length_draft())


def kept():
    return PaperRenewal.objects.count(), StoredFile.objects.count(), JournalEntry.objects.count()


def test_a_paper_is_due_early_enough_and_renewed_once(paper, clocks):
    assert list(papers_due(at=DUE - timedelta(days=1))) == []
    assert list(papers_due(at=DUE)) == [paper]
    clocks.begin(at=DUE, name="second")
    row = renew_paper(certificate=paper, by=given_person(), at=DUE)
    assert row.good_until == DUE + STAMPER_LASTS
    assert list(papers_due(at=DUE)) == []
    assert sorted(set(clocks.asked)) == ["/first", "/second"]
    renewed = read_file(row.file)
    assert renewed.startswith(read_file(paper.pdf))
    judged = check_pdf(renewed, chains=paper_chains(), trusted_stampers=sealing.trusted_stampers())
    assert (judged.fault, judged.stamped_at) == (None, DUE)
    before = paper.pdf_sha256
    paper.refresh_from_db()
    assert (paper.pdf_sha256, paper.pdf.sha256) == (before, before)


def test_a_renewal_is_in_the_journal_with_the_rows_it_wrote(paper, clocks):
    clocks.begin(at=DUE, name="second")
    row = renew_paper(certificate=paper, by=given_person(), at=DUE)
    entry = JournalEntry.objects.order_by("-pk").first()
    assert (entry.act, entry.subject) == ("renew_paper", paper.number)
    told = json.loads(entry.canonical)
    assert row.file.sha256 in json.dumps(told["detail"])
    assert len(told["detail"]["rows"]) == 2


def test_the_last_file_is_renewed_and_not_the_first_again(paper, clocks):
    clocks.begin(at=DUE, name="second")
    first = renew_paper(certificate=paper, by=given_person(), at=DUE)
    again = DUE + STAMPER_LASTS - timedelta(days=125)
    assert list(papers_due(at=again - timedelta(days=1))) == []
    clocks.begin(at=again, name="third")
    assert list(papers_due(at=again)) == [paper]
    second = renew_paper(certificate=paper, by=given_person(), at=again)
    assert read_file(second.file).startswith(read_file(first.file))


def silent(clocks, monkeypatch):
    def refuse():
        raise TimestampRequestError

    monkeypatch.setattr(sealing, "time_stamper", refuse)


def no_list(clocks, _monkeypatch):
    clocks.begin(at=DUE, name="second")
    del clocks.held["second"]


def no_list_of_the_first(clocks, _monkeypatch):
    clocks.begin(at=DUE, name="second")
    del clocks.held["first"]


def same_certificate(clocks, _monkeypatch):
    clocks.answer(clocks.held["first"], at=DUE)


@pytest.mark.parametrize(
    ("trouble", "told"),
    [
        (silent, "nothing was kept"),
        (no_list, "The second clock: stamps is not revoked could not be proved"),
        (no_list_of_the_first, "The first clock: stamps is not revoked could not be proved"),
        (same_certificate, "when it has a later one"),
    ],
)
def test_what_the_service_lacks_is_told_and_nothing_is_half_done(
    paper, clocks, monkeypatch, trouble, told
):
    trouble(clocks, monkeypatch)
    before = kept()
    with pytest.raises(CannotRenew, match=told):
        renew_paper(certificate=paper, by=given_person(), at=DUE)
    assert kept() == before
    assert list(papers_due(at=DUE)) == [paper]


def test_a_stamp_that_has_ended_is_told_and_not_renewed(paper, clocks):
    late = MOMENT + STAMPER_LASTS + timedelta(days=1)
    clocks.begin(at=late, name="second")
    assert list(papers_due(at=late)) == [paper]
    with pytest.raises(CannotRenew, match="nothing was kept"):
        renew_paper(certificate=paper, by=given_person(), at=late)


def test_of_two_at_once_one_renews(paper, clocks, monkeypatch):
    clocks.begin(at=DUE, name="second")
    by, stamped = given_person(), service.renew_pdf

    def overtaken(content, *, sealing):
        monkeypatch.setattr(service, "renew_pdf", stamped)
        renew_paper(certificate=paper, by=by, at=DUE)
        return stamped(content, sealing=sealing)

    monkeypatch.setattr(service, "renew_pdf", overtaken)
    with pytest.raises(CannotRenew, match="renewed meanwhile"):
        renew_paper(certificate=paper, by=by, at=DUE)
    assert PaperRenewal.objects.count() == 1


def test_a_damaged_paper_is_told_and_stands_in_the_way_of_no_other(
    paper, clocks, monkeypatch, administrator
):
    other = issued(given_cut_length_draft())
    with default_storage.open(paper.pdf.path, "wb") as file:
        file.write(b"%PDF-1.7 overwritten")
    clocks.begin(at=DUE, name="second")
    with pytest.raises(FileIsNotAsKept):
        renew_paper(certificate=paper, by=administrator, at=DUE)
    monkeypatch.setattr(command.timezone, "now", lambda: DUE)
    out, err = io.StringIO(), io.StringIO()
    with pytest.raises(SystemExit, match="1"):
        call_command("renew_papers", stdout=out, stderr=err)
    assert f"1 of 2: {paper.number}: The file" in err.getvalue()
    assert f"2 of 2: {other.number}: good until {DUE + STAMPER_LASTS:%Y-%m-%d}" in out.getvalue()
    assert "1 renewed, 1 could not be." in out.getvalue()


def test_run_again_the_command_does_nothing(paper, clocks, monkeypatch, administrator):
    clocks.begin(at=DUE, name="second")
    monkeypatch.setattr(command.timezone, "now", lambda: DUE)
    for expected in ("1 renewed, 0 could not be.", "0 renewed, 0 could not be."):
        out = io.StringIO()
        call_command("renew_papers", stdout=out)
        assert expected in out.getvalue()
    assert PaperRenewal.objects.count() == 1


def test_a_paper_that_was_never_stamped_is_not_renewed(clocks, settings):
    url, settings.TSA_URL = settings.TSA_URL, ""
    paper = issued(given_cut_length_draft())
    with pytest.raises(CannotRenew, match="TSA_URL"):
        renew_paper(certificate=paper, by=given_person(), at=DUE)
    settings.TSA_URL = url
    with pytest.raises(CannotRenew, match="without a time stamp"):
        renew_paper(certificate=paper, by=given_person(), at=DUE)
    assert list(papers_due(at=DUE)) == []


@pytest.mark.parametrize("role", [Role.AUDITOR, Role.STORES])
def test_who_may_not_renews_nothing(role):
    paper = issued(given_cut_length_draft())
    with pytest.raises(NotAllowed):
        renew_paper(certificate=paper, by=given_person(role), at=DUE)


def test_a_draft_has_nothing_to_renew():
    with pytest.raises(CannotRenew, match="is a draft"):
        renew_paper(certificate=given_cut_length_draft(), by=given_person(), at=DUE)
