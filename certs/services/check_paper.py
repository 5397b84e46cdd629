"""Checks a paper that anyone hands in, or names by its code: is it ours, unchanged, in force.

Nothing is written, and what is handed in is not kept. An answer tells no more than the paper in
the asker's hand does: what is only claimed by a file leads to nothing on record, and a number
alone, which could be guessed, is not answered.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from django.conf import settings

from certs.documents.handed_in_paper import (
    CREDENTIAL,
    MOST_BYTES,
    HandedInPaper,
    read_handed_in,
)
from certs.documents.pdf_check import PdfCheck, PdfFault, check_pdf
from certs.models import Certificate
from certs.queries.claims import tag_of, tag_of_certificate
from certs.queries.paper_identity import Identified, Identity, identify
from certs.queries.paper_journal import check_journal
from certs.queries.paper_status import paper_status
from certs.queries.paper_trust import check_data, check_keys, check_record, check_signature
from certs.rules.paper_advice import UNKNOWN, Now, what_to_do
from certs.rules.paper_check import (
    PaperCheck,
    Standing,
    Topic,
    cannot_say,
    fails,
    holds,
    standing_of,
)
from certs.services.sealing import trusted_stampers
from inventory.models import StoredFile
from inventory.queries.kept_files import FileIsNotAsKept, read_file
from inventory.queries.signing_keys import paper_chains
from inventory.rules.canonical import sha256_hex
from inventory.rules.refusal import Refusal
from inventory.rules.tag_code import fold, is_well_formed

_CHANGED = (
    "Its data are ours, and say that it is {number}; but it is not the file that was issued under "
    "this number. Take the one that was sent to you, or ask us for it."
)
_NOT_OURS = cannot_say(Topic.STATUS, "Nothing can be said of a paper that is not ours.")
_UNKNOWN = "No paper that we issued has these bytes: it is not ours, or it was changed."


class CannotCheck(Refusal):
    """What was handed in cannot be checked."""


@dataclass(frozen=True, slots=True)
class CheckedPaper:
    """The answer. `certificate` and `code` are of the paper that these bytes are, if any."""

    standing: Standing
    checks: tuple[PaperCheck, ...]
    sha256: str
    identity: Identity
    certificate: Certificate | None
    code: str
    now: Now

    @property
    def state(self) -> str:
        """Name its state today."""
        return self.now.state

    @property
    def advice(self) -> str:
        """Say what to do with it, and with what it speaks of."""
        return what_to_do(self.standing, self.now)

    @property
    def number(self) -> str:
        """Give the number of the paper, empty where it is not ours."""
        return str(self.certificate.number) if self.certificate else ""

    @property
    def title(self) -> str:
        """Say what kind of paper it is, empty where it is not ours."""
        return self.certificate.get_kind_display() if self.certificate else ""

    @property
    def issued_at(self) -> datetime | None:
        """Tell when it was issued."""
        return self.certificate.issued_at if self.certificate else None


def check_file(content: bytes) -> CheckedPaper:
    """Check a file that is handed in.

    Raises:
        CannotCheck: it is empty, too large, or no PDF.
    """
    if not content.startswith(b"%PDF-"):
        raise CannotCheck("This is not a PDF. Choose the PDF of the certificate.", field="file")
    if len(content) > MOST_BYTES:
        message = f"The file is larger than {MOST_BYTES // 1024**2} MB; no paper of ours is."
        raise CannotCheck(message, field="file")
    handed_in = read_handed_in(content)
    identified = identify(content, handed_in, origin=settings.PUBLIC_ORIGIN)
    same_file = _same_file(identified)
    return _checked(content, handed_in, identified, same_file=same_file)


def check_code(text: str) -> CheckedPaper | None:
    """Check what is on record of the paper that bears this code; None for an unknown one.

    Raises:
        CannotCheck: the code is on an item and not on a paper.
    """
    code = fold(text)
    tag = tag_of(code) if is_well_formed(code) else None
    if tag is None:
        return None
    if tag.certificate is None:
        message = "This code is on an item. Look it up as a tag; here, type the code on a paper."
        raise CannotCheck(message, field="code")
    return check_on_record(tag.certificate)


def check_on_record(certificate: Certificate) -> CheckedPaper:
    """Check the file that is kept of an issued certificate.

    Raises:
        CannotCheck: it is a draft.
    """
    if certificate.pdf is None:
        raise CannotCheck(f"{certificate} is a draft: there is no paper yet.")
    text = (
        "You named the paper and handed in no file. Hand in the PDF, or compare its SHA-256 with "
        f"that of the file as issued: {certificate.pdf_sha256}."
    )
    same_file = cannot_say(Topic.FILE, text)
    content = _kept(certificate.pdf)
    if content is None:
        content = b""
        same_file = fails(Topic.FILE, "The file that we keep of it is damaged. Tell us.")
    identified = Identified(Identity.ISSUED, certificate)
    return _checked(content, read_handed_in(content), identified, same_file=same_file)


def _kept(stored: StoredFile) -> bytes | None:
    try:
        return read_file(stored)
    except FileIsNotAsKept:
        return None


def _checked(
    content: bytes, handed_in: HandedInPaper, identified: Identified, *, same_file: PaperCheck
) -> CheckedPaper:
    """Make every check. What is told of the record, only of a paper whose bytes are ours."""
    ours = identified.certificate if identified.is_ours else None
    tag = tag_of_certificate(ours) if ours else None
    is_copy = identified.identity is Identity.SITE_COPY
    others = _of_copy() if is_copy else _of_file(content, handed_in, identified)
    status, now = paper_status(ours, tag) if ours and tag else (_NOT_OURS, UNKNOWN)
    checks = (same_file, *others, status)
    return CheckedPaper(
        standing=standing_of(checks),
        checks=checks,
        sha256=sha256_hex(content),
        identity=identified.identity,
        certificate=ours,
        code=tag.code if tag else "",
        now=now,
    )


def _of_file(
    content: bytes, handed_in: HandedInPaper, identified: Identified
) -> tuple[PaperCheck, ...]:
    certificate = identified.certificate
    ours = certificate if identified.is_ours else None
    origin = settings.PUBLIC_ORIGIN
    if ours or handed_in.is_readable:
        pdf = check_pdf(content, chains=paper_chains(), trusted_stampers=trusted_stampers())
    else:
        pdf = PdfCheck(PdfFault.UNREADABLE)
    journalled = check_journal(ours, origin=origin)
    # What is enclosed counts as it was signed; of a broken signature, as it stands.
    enclosures = pdf.enclosures if pdf.is_valid else handed_in.enclosures
    dated = journalled.issued_at if ours else _date_of_data(enclosures, certificate, origin=origin)
    return (
        check_signature(pdf, issued_at=journalled.issued_at),
        check_keys(ours),
        check_data(enclosures, origin=origin, issued_at=dated),
        check_record(enclosures, certificate),
        journalled.check,
    )


def _date_of_data(
    enclosures: Mapping[str, bytes], certificate: Certificate | None, *, origin: str
) -> datetime | None:
    """Tell when data were issued that are ours in a file that is not."""
    if certificate is None:
        return None
    is_ours = sha256_hex(enclosures.get(CREDENTIAL, b"")) == certificate.credential_sha256
    return check_journal(certificate, origin=origin).issued_at if is_ours else None


def _of_copy() -> tuple[PaperCheck, ...]:
    text = "A site copy is not signed and encloses no data: only the paper as issued does."
    topics = (Topic.SIGNATURE, Topic.KEYS, Topic.DATA, Topic.RECORD, Topic.JOURNAL)
    return tuple(cannot_say(topic, text) for topic in topics)


def _same_file(identified: Identified) -> PaperCheck:
    match identified.identity, identified.certificate:
        case Identity.ISSUED, Certificate(number=number):
            return holds(Topic.FILE, f"Byte for byte the file that was issued as {number}.")
        case Identity.RENEWED, Certificate(number=number):
            text = f"The file that was issued as {number}, with a later time stamp of ours upon it."
            return holds(Topic.FILE, text)
        case Identity.SITE_COPY, Certificate(number=number):
            text = (
                f"A site copy of {number}, byte for byte as we hand it out: the purchaser’s name "
                "is withheld. It is not the paper as issued."
            )
            return cannot_say(Topic.FILE, text)
        case Identity.CHANGED, Certificate(number=number):
            return fails(Topic.FILE, _CHANGED.format(number=number))
        case _:
            return fails(Topic.FILE, _UNKNOWN)
