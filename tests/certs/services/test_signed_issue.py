"""Issuing signs: whole or not at all, with the keys of the moment; papers outlive their keys."""

import json
from datetime import timedelta

import pytest
from pyhanko.sign.timestamps import TimestampRequestError

from certs.documents.pdf_check import check_pdf
from certs.models import Certificate
from certs.queries.checklist import checklist, lacking
from certs.queries.public_keys import credential_keys
from certs.rules.credential import fault_of
from certs.services import issue, print_certificate, sealing
from certs.services.issue import CannotIssue, issue_certificate
from certs.services.print_certificate import CannotSign
from certs.services.renew_paper import CannotRenew, papers_due, renew_paper
from inventory.models import Checkpoint, NumberSeries, SigningKey, StoredFile
from inventory.queries.checkpoints import log_keys
from inventory.queries.kept_files import read_file
from inventory.queries.signing_keys import paper_chains
from inventory.rules.checkpoint import open_checkpoint
from inventory.rules.roles import Role
from inventory.rules.signing import Purpose
from inventory.services.authority import NotAllowed
from inventory.services.keyring import make_key, revoke_key
from inventory.services.open_keys import forget_opened_keys
from tests.certs.documents.signing import STAMPER_LASTS, StampHouse
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT, given_person, given_piece, pdf_bytes

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

LATER = MOMENT + timedelta(days=1)
PASSPHRASE = "twenty signs are the least of it"


@pytest.fixture(autouse=True)
def plain_paper(monkeypatch):
    """Rendering is slow, and is tested with documents."""
    monkeypatch.setattr(
        "certs.services.print_certificate.certificate_pdf",
        lambda _snapshot, *, canonical, credential: pdf_bytes(canonical + credential),
    )


@pytest.fixture(autouse=True)
def keys_root(tmp_path, settings):
    settings.KEYS_ROOT = tmp_path / "keys"
    forget_opened_keys()
    return settings.KEYS_ROOT


@pytest.fixture
def clock(tmp_path, settings, monkeypatch):
    """A time-stamp service that answers at the moment of issuing."""
    clock = StampHouse(since=MOMENT)
    settings.TSA_URL = "https://clock.example/"
    settings.TSA_ROOTS = str(tmp_path / "clock.pem")
    (tmp_path / "clock.pem").write_text(clock.root_pem)
    monkeypatch.setattr(sealing, "time_stamper", lambda: clock.stamper(MOMENT))
    return clock


def rotate(*, at, is_evaluation=True):
    by = given_person(Role.ADMINISTRATOR)
    return [
        make_key(purpose, is_evaluation=is_evaluation, by=by, at=at, overlap=timedelta(days=30))
        for purpose in Purpose
    ]


def holds(certificate, settings):
    """Whether signature, credential and the standing checkpoint hold by the keys on record."""
    judged = check_pdf(
        read_file(certificate.pdf),
        chains=paper_chains(),
        trusted_stampers=sealing.trusted_stampers(),
    )
    credential = json.loads(certificate.credential)
    assert fault_of(credential, keys=credential_keys(settings.PUBLIC_ORIGIN)) == ""
    for checkpoint in Checkpoint.objects.all():
        origin = checkpoint.note.partition("\n")[0]
        assert open_checkpoint(checkpoint.note, keys=log_keys(origin)).head.size == checkpoint.size
    assert judged.is_valid, judged.words
    return judged


def untouched(draft):
    draft.refresh_from_db()
    return (
        draft.state == Certificate.State.DRAFT
        and not StoredFile.objects.filter(media_type="application/pdf", name__startswith="CL-")
        and not NumberSeries.objects.filter(series__startswith="CL-").exists()
    )


def test_papers_credentials_and_checkpoints_outlive_a_rotation_of_all_keys(settings):
    old = issued(given_cut_length_draft())
    settings.KEYS_PASSPHRASE = PASSPHRASE
    rotate(at=LATER, is_evaluation=False)
    draft = given_cut_length_draft(given_piece(reel=old.piece_ties.get().piece.reel))
    new = issue_certificate(certificate=draft, by=given_person(), at=LATER)
    assert holds(old, settings).key != holds(new, settings).key
    assert (old.is_evaluation, new.is_evaluation) == (True, False)
    assert not json.loads(new.snapshot)["keys"]["is_evaluation"]


def test_a_revoked_key_signs_no_more_and_the_next_one_does(settings):
    first = issued(given_cut_length_draft())
    revoked = SigningKey.objects.get(purpose=Purpose.PAPER)
    by = given_person(Role.ADMINISTRATOR)
    revoke_key(revoked.name, reason="The laptop was stolen.", by=by, at=LATER)
    draft = given_cut_length_draft()
    assert holds(issued(draft), settings).key != revoked.name
    assert holds(first, settings).key == revoked.name


def test_a_draft_says_that_there_is_no_key_and_stays_one():
    draft = given_cut_length_draft()
    by = given_person(Role.ADMINISTRATOR)
    for key in SigningKey.objects.filter(purpose__in=[Purpose.PAPER, Purpose.CREDENTIAL]):
        revoke_key(key.name, reason="Lost.", by=by, at=MOMENT)
    missing = lacking(checklist(draft, on=MOMENT.date()))
    assert [item.name for item in missing] == ["Keys to sign with"]
    with pytest.raises(CannotIssue, match="make_keys"):
        issued(draft)
    assert untouched(draft)


@pytest.mark.parametrize("purpose", [Purpose.PAPER, Purpose.CREDENTIAL])
def test_a_lost_key_file_stops_issuing_in_words_and_changes_nothing(keys_root, purpose):
    draft = given_cut_length_draft()
    (keys_root / f"{SigningKey.objects.get(purpose=purpose).name}.pem").unlink()
    with pytest.raises(CannotSign, match="Put it back from its backup"):
        issued(draft)
    assert untouched(draft)


def test_a_key_made_while_the_paper_is_printed_signs_it(settings, monkeypatch):
    draft = given_cut_length_draft()
    before = SigningKey.objects.get(purpose=Purpose.PAPER)
    printed = issue.print_certificate
    rotated = []

    def overtaken(*args, **options):
        paper = printed(*args, **options)
        if not rotated:
            rotated.extend(rotate(at=MOMENT))
        return paper

    monkeypatch.setattr(issue, "print_certificate", overtaken)
    paper = issued(draft)
    assert holds(paper, settings).key == rotated[-1].name != before.name


def test_a_time_stamp_service_seals_the_paper(clock, settings):
    paper = issued(given_cut_length_draft())
    assert holds(paper, settings).stamped_at == MOMENT


@pytest.mark.parametrize("trouble", ["no answer", "no roots"])
def test_without_the_time_stamp_that_was_asked_for_nothing_is_issued(
    clock, settings, monkeypatch, trouble
):
    draft = given_cut_length_draft()
    if trouble == "no roots":
        settings.TSA_ROOTS += ".lost"
    else:

        def silent():
            raise TimestampRequestError

        monkeypatch.setattr(sealing, "time_stamper", silent)
    with pytest.raises(CannotSign, match="nothing was issued"):
        issued(draft)
    assert untouched(draft)


def test_a_paper_is_renewed_before_its_stamp_ends_and_stays_what_it_was(clock, settings):
    paper = issued(given_cut_length_draft())
    ends_at = MOMENT + STAMPER_LASTS
    assert list(papers_due(at=ends_at - timedelta(days=91))) == []
    due_at = ends_at - timedelta(days=89)
    assert list(papers_due(at=due_at)) == [paper]
    row = renew_paper(certificate=paper, by=given_person(), at=MOMENT + timedelta(days=1))
    assert row.good_until == ends_at  # the pretended service has one certificate for ever
    assert read_file(row.file).startswith(read_file(paper.pdf))
    before = paper.pdf_sha256
    paper.refresh_from_db()
    assert (paper.pdf_sha256, paper.pdf.sha256) == (before, before)


def test_a_paper_that_was_never_stamped_is_not_renewed(clock, settings):
    url, settings.TSA_URL = settings.TSA_URL, ""
    paper = issued(given_cut_length_draft())
    with pytest.raises(CannotRenew, match="TSA_URL"):
        renew_paper(certificate=paper, by=given_person(), at=LATER)
    settings.TSA_URL = url
    with pytest.raises(CannotRenew, match="without a time stamp"):
        renew_paper(certificate=paper, by=given_person(), at=LATER)
    assert list(papers_due(at=LATER)) == []


@pytest.mark.parametrize("role", [Role.AUDITOR, Role.STORES])
def test_who_may_not_renews_nothing(role):
    paper = issued(given_cut_length_draft())
    with pytest.raises(NotAllowed):
        renew_paper(certificate=paper, by=given_person(role), at=LATER)


def test_a_draft_has_nothing_to_renew():
    with pytest.raises(CannotRenew, match="is a draft"):
        renew_paper(certificate=given_cut_length_draft(), by=given_person(), at=LATER)


def test_the_facts_name_the_keys_and_where_their_public_halves_stand(settings):
    paper = issued(given_cut_length_draft())
    keys = json.loads(paper.snapshot)["keys"]
    assert keys == dict(print_certificate.keys_now())
    assert keys["address"] == f"{settings.PUBLIC_ORIGIN}/.well-known/jwks.json"
