"""Renews the time stamp of a sealed paper before it ends, so that it can be checked for longer.

The paper as issued, and its hash, never change: the renewed file, which holds it whole and one
stamp more, is kept beside it.
"""

import json
from collections.abc import Iterator
from datetime import datetime, timedelta

from django.db import transaction
from pyhanko.sign.general import SigningError
from pyhanko.sign.timestamps import TimestampRequestError

from certs.documents.pdf_signature import renew_pdf
from certs.documents.pdf_stamp import stamp_ends_at
from certs.models import Certificate, PaperRenewal
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.sealing import sealing_for
from inventory.models import Person, StoredFile
from inventory.queries.kept_files import read_file
from inventory.rules.refusal import Refusal
from inventory.services.files import keep_made
from inventory.services.guarded import add_row
from inventory.services.journal import append
from inventory.services.locks import lock_row

# Before a stamp ends there must be time to notice that its service is gone and to find another.
EARLY = timedelta(days=90)


class CannotRenew(Refusal):
    """The stamp of a paper cannot be renewed; the text says why."""


def papers_due(*, at: datetime) -> Iterator[Certificate]:
    """Go through the issued papers whose last stamp ends within 90 days, or has ended."""
    issued = Certificate.objects.exclude(state=Certificate.State.DRAFT).select_related("pdf")
    for certificate in issued.order_by("pk").iterator():
        last = _last_renewal(certificate)
        ends_at = last.good_until if last else stamp_ends_at(read_file(_paper(certificate)))
        if ends_at is not None and ends_at <= at + EARLY:
            yield certificate


def renew_paper(*, certificate: Certificate, by: Person, at: datetime) -> PaperRenewal:
    """Put one more archival time stamp upon the last file of a sealed paper, and keep that file.

    Raises:
        NotAllowed: the person's role does not renew papers.
        CannotRenew: it was never sealed, no service is named, or it does not answer.
    """
    require(by=by, act=ClaimAct.RENEW_PAPER)
    renewed = _stamped(certificate, at=at)
    ends_at = stamp_ends_at(renewed)
    if ends_at is None:
        message = "The time-stamp service gave no stamp; nothing was kept."
        raise CannotRenew(message)
    with transaction.atomic():
        locked = lock_row(certificate)
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


def _stamped(certificate: Certificate, *, at: datetime) -> bytes:
    last = _last_renewal(certificate)
    content = read_file(last.file if last else _paper(certificate))
    keys = json.loads(certificate.snapshot).get("keys") if certificate.snapshot else None
    sealing = sealing_for(keys["paper"], at=at) if keys else None
    if sealing is None:
        message = "No time-stamp service is named: set TSA_URL and TSA_ROOTS."
        raise CannotRenew(message)
    if stamp_ends_at(content) is None:
        message = f"{certificate} was issued without a time stamp, so there is none to renew."
        raise CannotRenew(message)
    try:
        return renew_pdf(content, sealing=sealing)
    except (TimestampRequestError, SigningError, OSError) as error:
        message = (
            f"The time-stamp service did not answer as it should, so nothing was kept: {error}"
        )
        raise CannotRenew(message) from error


def _last_renewal(certificate: Certificate) -> PaperRenewal | None:
    renewals = PaperRenewal.objects.filter(certificate=certificate).select_related("file")
    return renewals.order_by("-made_at", "-id").first()


def _paper(certificate: Certificate) -> StoredFile:
    if certificate.pdf is None:
        message = f"{certificate} is a draft and has no paper."
        raise CannotRenew(message)
    return certificate.pdf
