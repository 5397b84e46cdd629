"""A paper that a stranger hands in: what is found out, and which check notices."""

import io
from datetime import timedelta

import pikepdf
import pytest

from certs.documents.certificate_pdf import certificate_pdf, site_copy_pdf
from certs.documents.handed_in_paper import MOST_BYTES
from certs.documents.pdf_signature import sign_pdf
from certs.models import Certificate
from certs.queries.claims import tag_of_certificate
from certs.queries.papers import Paper
from certs.rules.paper_check import CheckVerdict, Standing, Topic
from certs.services.check_paper import CannotCheck, check_code, check_file
from certs.services.withdraw import withdraw_certificate
from inventory.models import Checkpoint, SigningKey
from inventory.queries.kept_files import read_file
from inventory.rules.roles import Role
from inventory.rules.signing import Purpose
from inventory.services.keyring import make_key, revoke_key
from tests.certs.documents.signing import PaperHouse
from tests.certs.documents.verifier.test_command import (
    in_padding,
    in_signature,
    overlaid,
    rewritten,
    with_byte_turned,
)
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.certs.past_the_guards import unguarded
from tests.certs.sites import given_tag
from tests.factories import MOMENT, given_person

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


@pytest.fixture(autouse=True)
def house(settings):
    """Keys that vouch for the house; those of other tests are for evaluation."""
    settings.PUBLIC_ORIGIN = "https://records.example"
    settings.KEYS_PASSPHRASE = "seven horses on a dry quay"
    keeper = given_person(Role.ADMINISTRATOR)
    for purpose in Purpose:
        make_key(purpose, is_evaluation=False, by=keeper, at=MOMENT)


@pytest.fixture
def paper():
    return issued(given_cut_length_draft())


@pytest.fixture
def pdf(paper):
    return read_file(paper.pdf)


def not_holding(answer):
    return {c.topic: c.verdict for c in answer.checks if c.verdict is not CheckVerdict.HOLDS}


def failing(answer):
    return {c.topic for c in answer.checks if c.verdict is CheckVerdict.FAILS}


def test_the_paper_as_issued_is_good(paper, pdf):
    answer = check_file(pdf)
    assert not_holding(answer) == {}
    assert answer.standing is Standing.GOOD
    assert {check.topic for check in answer.checks} == set(Topic)
    assert (answer.number, answer.sha256) == (paper.number, paper.pdf_sha256)


@pytest.mark.parametrize(
    "snapshot",
    [
        pytest.param("not JSON at all", id="no JSON"),
        pytest.param("[]", id="no facts"),
        pytest.param('{"issuer":5,"keys":5}', id="facts of another shape"),
    ],
)
def test_a_record_damaged_behind_the_programs_back_is_told_in_words(paper, pdf, snapshot):
    unguarded("certs_certificate")
    Certificate.objects.filter(pk=paper.pk).update(snapshot=snapshot)
    answer = check_file(pdf)
    assert Topic.RECORD in failing(answer)
    assert answer.standing is not Standing.GOOD


def with_another_file(pdf, name, data):
    """Replace an enclosed file by an incremental update, as a forger would: the start is kept."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        at = next(n for n, f in opened.attachments.items() if n == name)
        opened.attachments[at].get_file().obj.write(data)
        changed = opened.attachments[at].get_file().obj
        number, raw = changed.objgen[0], changed.read_raw_bytes()
    start = pdf[pdf.rindex(b"startxref") :].split()[1]
    position = len(pdf) + 1
    added = b"\n%d 0 obj\n<</Type /EmbeddedFile/Length %d>>\nstream\n" % (number, len(data))
    added += data + b"\nendstream\nendobj\n"
    assert raw
    xref = b"xref\n%d 1\n%010d 00000 n \n" % (number, position)
    trailer = b"trailer\n<</Size 1000/Prev %s/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n"
    return pdf + added + xref + trailer % (start, position + len(added) - 1)


GENUINE = {Topic.FILE, Topic.SIGNATURE}
NO_TRACE = {Topic.FILE, Topic.SIGNATURE, Topic.DATA, Topic.RECORD, Topic.JOURNAL}
TAMPERED = [
    pytest.param(lambda pdf: with_byte_turned(pdf, 600), Topic.SIGNATURE, id="byte of the page"),
    pytest.param(
        lambda pdf: with_byte_turned(pdf, pdf.index(b"/EmbeddedFile") + 200),
        Topic.SIGNATURE,
        id="byte of the enclosed data",
    ),
    pytest.param(in_signature, Topic.SIGNATURE, id="the signature's value"),
    pytest.param(in_padding, Topic.SIGNATURE, id="room beside the signature"),
    pytest.param(overlaid, Topic.SIGNATURE, id="an overlay added"),
    pytest.param(
        lambda pdf: with_another_file(pdf, "credential.json", b'{"force":"99 kN"}'),
        Topic.SIGNATURE,
        id="the data replaced by an update",
    ),
    pytest.param(lambda pdf: pdf + b"% a comment\n", Topic.FILE, id="a comment added"),
    pytest.param(lambda pdf: pdf + bytes(2000), Topic.FILE, id="zero bytes added"),
    pytest.param(rewritten, Topic.SIGNATURE, id="written anew by another program"),
    pytest.param(lambda pdf: pdf[: len(pdf) // 2], Topic.SIGNATURE, id="cut in half"),
]


@pytest.mark.parametrize(("tamper", "noticed_by"), TAMPERED)
def test_a_changed_paper_is_not_genuine(pdf, tamper, noticed_by):
    answer = check_file(tamper(pdf))
    assert answer.standing is Standing.NOT_GENUINE
    assert {Topic.FILE, noticed_by} <= failing(answer)


@pytest.mark.parametrize(("tamper", "noticed_by"), TAMPERED)
def test_nothing_on_record_is_told_of_a_changed_paper(pdf, tamper, noticed_by):
    answer = check_file(tamper(pdf))
    assert (answer.certificate, answer.code, answer.issued_at) == (None, "", None)
    assert not_holding(answer)[Topic.STATUS] is CheckVerdict.CANNOT_SAY


def test_a_paper_of_another_house_is_not_genuine(paper):
    """Our facts and data, printed as we do, under a signature that is whole and not ours."""
    copied = certificate_pdf(
        Paper.of(paper).snapshot, canonical=paper.snapshot, credential=paper.credential
    )
    forged = sign_pdf(copied, signer=PaperHouse().signer, house="Another", at=MOMENT)
    answer = check_file(forged)
    assert failing(answer) >= GENUINE
    assert "not with a key of this house" in next(
        c.meaning for c in answer.checks if c.topic is Topic.SIGNATURE
    )


@pytest.mark.parametrize("purpose", [Purpose.PAPER, Purpose.CREDENTIAL])
def test_what_was_signed_before_a_key_ended_stays_good(purpose, pdf):
    keeper = given_person(Role.ADMINISTRATOR)
    former = SigningKey.objects.filter(purpose=purpose.value).order_by("id").last()
    later = MOMENT + timedelta(days=30)
    make_key(purpose, is_evaluation=False, by=keeper, at=later)
    assert check_file(pdf).standing is Standing.GOOD
    revoke_key(former.name, reason="Seen by a stranger", by=keeper, at=later)
    assert check_file(pdf).standing is Standing.GOOD


@pytest.mark.parametrize(
    ("purpose", "topic"),
    [(Purpose.PAPER, Topic.SIGNATURE), (Purpose.CREDENTIAL, Topic.DATA)],
)
def test_what_the_journal_dates_after_a_revocation_is_not_genuine(purpose, topic, pdf):
    unguarded("inventory_signingkey")
    earlier = MOMENT - timedelta(days=1)
    SigningKey.objects.filter(purpose=purpose.value).update(
        revoked_at=earlier, revoke_reason="Seen by a stranger"
    )
    answer = check_file(pdf)
    assert failing(answer) == {topic}
    assert answer.standing is Standing.NOT_GENUINE


def test_a_withdrawn_paper_is_genuine_and_not_in_force(paper, pdf):
    withdraw_certificate(certificate=paper, reason="Wrong reel", by=given_person(), at=MOMENT)
    answer = check_file(pdf)
    assert failing(answer) == {Topic.STATUS}
    assert answer.standing is Standing.NOT_IN_FORCE


def test_a_site_copy_is_known_as_one(paper):
    copy = site_copy_pdf(Paper.of(paper).snapshot, pdf_sha256=paper.pdf_sha256)
    answer = check_file(copy)
    assert answer.standing is Standing.NOT_PROVED
    assert failing(answer) == set()
    assert answer.checks[0].meaning.startswith(f"A site copy of {paper.number}")
    assert check_file(copy + b"%\n").standing is Standing.NOT_GENUINE


def test_a_row_that_was_changed_on_record_is_noticed(paper, pdf):
    unguarded("certs_certificate")
    Certificate.objects.filter(pk=paper.pk).update(credential=paper.credential + " ")
    assert failing(check_file(pdf)) == {Topic.RECORD}


def test_a_journal_that_was_changed_is_noticed(pdf):
    unguarded("inventory_checkpoint")
    Checkpoint.objects.update(root="0" * 64)
    assert failing(check_file(pdf)) == {Topic.JOURNAL}


def test_without_a_checkpoint_nothing_is_proved(pdf):
    unguarded("inventory_checkpoint")
    Checkpoint.objects.all().delete()
    answer = check_file(pdf)
    assert not_holding(answer) == {Topic.JOURNAL: CheckVerdict.CANNOT_SAY}
    assert answer.standing is Standing.NOT_PROVED


def test_evaluation_keys_vouch_for_nobody(paper, pdf):
    unguarded("certs_certificate")
    Certificate.objects.filter(pk=paper.pk).update(is_evaluation=True)
    answer = check_file(pdf)
    assert not_holding(answer) == {Topic.KEYS: CheckVerdict.CANNOT_SAY}
    assert answer.standing is Standing.NOT_PROVED


@pytest.mark.parametrize(
    ("content", "words"),
    [
        pytest.param(b"", "not a PDF", id="nothing"),
        pytest.param(b"\x89PNG\r\n", "not a PDF", id="a picture"),
        pytest.param(b"%PDF-" + bytes(MOST_BYTES), "larger than 10 MB", id="too large"),
    ],
)
def test_what_cannot_be_a_paper_is_refused(content, words):
    with pytest.raises(CannotCheck, match=words):
        check_file(content)


def test_a_file_that_only_looks_like_a_pdf_is_not_ours():
    answer = check_file(b"%PDF-1.7\nnothing")
    assert answer.standing is Standing.NOT_GENUINE


def test_a_code_leads_to_what_is_on_record_and_proves_no_file(paper):
    answer = check_code(tag_of_certificate(paper).code.lower())
    assert not_holding(answer) == {Topic.FILE: CheckVerdict.CANNOT_SAY}
    assert answer.standing is Standing.NOT_PROVED
    assert paper.pdf_sha256 in answer.checks[0].meaning


@pytest.mark.parametrize("text", ["", "0000", "CL-2026-00001", "0" * 16])
def test_neither_a_number_nor_an_unknown_code_is_answered(paper, text):
    assert check_code(text) is None


def test_the_code_of_an_item_is_sent_to_its_own_page():
    with pytest.raises(CannotCheck, match="on an item"):
        check_code(given_tag(piece=given_certifiable_piece()).code)


def test_a_kept_file_that_was_damaged_is_told(paper, settings):
    path = settings.STORAGES["default"]["OPTIONS"]["location"] / paper.pdf.path
    path.chmod(0o600)
    path.write_bytes(b"%PDF-1.7 another")
    answer = check_code(tag_of_certificate(paper).code)
    assert Topic.FILE in failing(answer)
