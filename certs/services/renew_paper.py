"""Renews the time stamp of a sealed paper before it ends, so that it can be checked for longer.

The paper as issued, and its hash, never change: the renewed file, which holds it whole and one
stamp more, is kept beside it.
"""

import json
from collections.abc import Iterator
from datetime import datetime

from django.conf import settings
from django.db import transaction
from pyhanko.sign.general import SigningError
from pyhanko.sign.timestamps import TimestampRequestError

from certs.documents.pdf_stamp import LastStamp, last_stamp, renew_pdf
from certs.models import Certificate, PaperRenewal
from certs.queries.renewals import last_renewal
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.sealing import sealing_for
from inventory.models import Person, StoredFile
from inventory.queries.kept_files import FileIsNotAsKept, read_file
from inventory.rules.refusal import Refusal
from inventory.services.files import keep_made
from inventory.services.guarded import add_row
from inventory.services.journal import append
from inventory.services.locks import lock_row


class CannotRenew(Refusal):
    """The stamp of a paper cannot be renewed; the text says why."""


def papers_due(*, at: datetime) -> Iterator[Certificate]:
    """Go through the issued papers whose last stamp is to be renewed now, or has ended.

    A paper whose file is not as it was kept is among them: it stands in the way of no other, and
    whoever renews it is told.
    """
    issued = Certificate.objects.exclude(state=Certificate.State.DRAFT).select_related("pdf")
    for certificate in issued.order_by("pk").iterator():
        if _is_due(certificate, at=at):
            yield certificate


def renew_paper(*, certificate: Certificate, by: Person, at: datetime) -> PaperRenewal:
    """Put one more archival time stamp upon the last file of a sealed paper, and keep that file.

    Raises:
        NotAllowed: the person's role does not renew papers.
        CannotRenew: it was never sealed, no service is named or it does not answer, its stamp
            would last no longer, the last one has ended, or somebody else renewed it meanwhile.
        FileIsNotAsKept: the last file of the paper is gone or damaged.
    """
    require(by=by, act=ClaimAct.RENEW_PAPER)
    last = _last_file(certificate)
    renewed, ends_at = _stamped(certificate, last, at=at)
    with transaction.atomic():
        locked = lock_row(certificate)
        if _last_file(locked) != last:
            message = f"{locked} was renewed meanwhile; nothing was kept."
            raise CannotRenew(message)
        name = f"{locked.number}-renewed-{at:%Y-%m-%d}.pdf"
        file = keep_made(content=renewed, name=name, media_type="application/pdf", at=at)
        row = PaperRenewal(
            certificate=locked, file=file, good_until=ends_at, made_at=at, made_by=by
        )
        add_row(row, refusal=CannotRenew)
        append(
            at=at,
            by=by,
            act=ClaimAct.RENEW_PAPER,
            subject=str(locked.number),
            detail={"pdf_sha256": locked.pdf_sha256, "renewed_sha256": file.sha256},
            rows=[row, file],
        )
    return row


def _is_due(certificate: Certificate, *, at: datetime) -> bool:
    try:
        stamp = last_stamp(read_file(_last_file(certificate)))
    except FileIsNotAsKept:
        return True
    return stamp is not None and stamp.due_at <= at


def _stamped(certificate: Certificate, file: StoredFile, *, at: datetime) -> tuple[bytes, datetime]:
    """Stamp the file once more: what came of it, and when that stamp ends."""
    content = read_file(file)
    keys = json.loads(certificate.snapshot).get("keys") if certificate.snapshot else None
    if not settings.TSA_URL or not keys:
        message = "No time-stamp service is named: set TSA_URL and TSA_ROOTS."
        raise CannotRenew(message)
    before = _stamp_of(certificate, content)
    try:
        sealing = sealing_for(keys["paper"], at=at, last=before)
        renewed = renew_pdf(content, sealing=sealing)
    except (TimestampRequestError, SigningError, OSError) as error:
        message = f"The time stamp could not be renewed, so nothing was kept: {error}."
        raise CannotRenew(message) from error
    after = _stamp_of(certificate, renewed)
    if after.ends_at <= before.ends_at:
        message = (
            "The time-stamp service still stamps by a certificate that ends on"
            f" {after.ends_at:%Y-%m-%d}, so nothing was kept. Try again when it has a later one."
        )
        raise CannotRenew(message)
    return renewed, after.ends_at


def _stamp_of(certificate: Certificate, content: bytes) -> LastStamp:
    stamp = last_stamp(content)
    if stamp is None:
        message = f"{certificate} was issued without a time stamp, so there is none to renew."
        raise CannotRenew(message)
    return stamp


def _last_file(certificate: Certificate) -> StoredFile:
    last = last_renewal(certificate)
    return last.file if last else _paper(certificate)


def _paper(certificate: Certificate) -> StoredFile:
    if certificate.pdf is None:
        message = f"{certificate} is a draft and has no paper."
        raise CannotRenew(message)
    return certificate.pdf
