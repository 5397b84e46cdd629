"""Issuing signs: whole or not at all, with the keys of the moment; papers outlive their keys."""

import io
import json
from datetime import timedelta

import pytest
from cryptography import x509
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.timestamps import TimestampRequestError
from pyhanko.sign.validation.dss import DocumentSecurityStore

from certs.documents.pdf_check import check_pdf
from certs.models import Certificate
from certs.queries.checklist import checklist, lacking
from certs.queries.public_keys import credential_keys
from certs.rules.credential import fault_of
from certs.services import issue, print_certificate, sealing
from certs.services.issue import CannotIssue, issue_certificate
from certs.services.print_certificate import CannotSign
from certs.services.signing_trouble import signing_trouble
from inventory.models import Checkpoint, NumberSeries, SigningKey, StoredFile
from inventory.queries.checkpoints import log_keys
from inventory.queries.kept_files import read_file
from inventory.queries.signing_keys import paper_chains
from inventory.rules.checkpoint import open_checkpoint
from inventory.rules.roles import Role
from inventory.rules.signing import Purpose
from inventory.services.keyring import make_key, revoke_key
from inventory.services.open_keys import forget_opened_keys
from tests.certs.papers import given_cut_length_draft, issued
from tests.certs.services.clocks import clocks_of
from tests.factories import MOMENT, given_person, given_piece, pdf_bytes

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

LATER = MOMENT + timedelta(days=1)
PASSPHRASE = "twenty signs are the least of it"


@pytest.fixture(autouse=True)
def plain_paper(monkeypatch):
    """Rendering is slow, and is tested with documents."""
    monkeypatch.setattr(
        "certs.services.print_certificate.certificate_pdf",
        lambda _snapshot, *, canonical, credential, **_: pdf_bytes(canonical + credential),
    )


@pytest.fixture(autouse=True)
def keys_root(tmp_path, settings):
    settings.KEYS_ROOT = tmp_path / "keys"
    forget_opened_keys()
    return settings.KEYS_ROOT


@pytest.fixture
def clocks(tmp_path, settings, monkeypatch):
    """A time-stamp service that answers at the moment of issuing."""
    with clocks_of(settings, monkeypatch, tmp_path / "clocks.pem") as clocks:
        clocks.begin(at=MOMENT)
        yield clocks


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
    told = lacking(checklist(draft, on=MOMENT.date(), key_trouble=signing_trouble()))
    assert [item.name for item in told] == ["Keys to sign with"]
    assert "Put it back from its backup" in told[0].text
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


def test_a_time_stamp_service_seals_the_paper(clocks, settings):
    paper = issued(given_cut_length_draft())
    assert holds(paper, settings).stamped_at == MOMENT
    reader = PdfFileReader(io.BytesIO(read_file(paper.pdf)))
    lists = [one.get_object().data for one in DocumentSecurityStore.read_dss(reader).crls]
    issuers = {x509.load_der_x509_crl(one).issuer for one in lists}
    (chain,) = paper_chains().values()
    house = x509.load_pem_x509_certificates(chain.encode())[-1]
    assert issuers == {clocks.held["first"].root.certificate.subject, house.subject}
    assert clocks.asked == ["/first"]


@pytest.mark.parametrize("trouble", ["no answer", "no roots", "no lists", "no list served"])
def test_without_the_time_stamp_that_was_asked_for_nothing_is_issued(
    clocks, settings, monkeypatch, trouble
):
    draft = given_cut_length_draft()
    if trouble == "no lists":
        clocks.begin(at=MOMENT, name="silent", lists=False)
    elif trouble == "no list served":
        clocks.begin(at=MOMENT, name="lost")
        clocks.held.clear()
    elif trouble == "no roots":
        settings.TSA_ROOTS += ".lost"
    else:

        def silent():
            raise TimestampRequestError

        monkeypatch.setattr(sealing, "time_stamper", silent)
    with pytest.raises(CannotSign, match="nothing was issued"):
        issued(draft)
    assert untouched(draft)


def test_the_facts_name_the_keys_and_where_their_public_halves_stand(settings):
    paper = issued(given_cut_length_draft())
    keys = json.loads(paper.snapshot)["keys"]
    assert keys == dict(print_certificate.keys_now())
    assert keys["address"] == f"{settings.PUBLIC_ORIGIN}/.well-known/jwks.json"
