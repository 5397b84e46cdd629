"""Takes a report from site, from anyone who holds a tag: words, photographs, and the trace.

Nobody signs in. What became of a report is decided by the house (`settle_report`); that it came
in is journalled at once, so that it cannot be lost quietly.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Final

from django.db import transaction

from certs.models import SitePhoto, SiteReport, Tag
from certs.queries.site_reports import trace_at
from certs.rules.roles import ClaimAct
from inventory.documents.photograph import Photograph
from inventory.rules.canonical import canonical_text
from inventory.rules.refusal import Refusal
from inventory.services.files import keep_made
from inventory.services.guarded import add_row
from inventory.services.journal import append, text_hash
from inventory.services.numbering import SITE_REPORT, take_code
from inventory.services.stranger import the_stranger

MAX_PHOTOS: Final = 4


class CannotReport(Refusal):
    """The report cannot be taken."""


def report_from_site(
    *,
    tag: Tag,
    kind: str,
    words: str,
    contact: str = "",
    photos: Sequence[Photograph] = (),
    at: datetime,
) -> SiteReport:
    """Take a report about what a tag is on.

    Args:
        kind: a value of `SiteReport.Kind`.
        contact: how to reach the reporter; it stays out of the journal and can be forgotten.
        photos: at most `MAX_PHOTOS`, taken beforehand, as decoding them is slow.

    Raises:
        CannotReport: no words, an unknown kind, too much of anything.
    """
    if not words.strip():
        message = "Say what you saw; a few words are enough."
        raise CannotReport(message, field="words")
    if len(photos) > MAX_PHOTOS:
        message = f"At most {MAX_PHOTOS} photographs can be sent with one report."
        raise CannotReport(message, field="photos")
    trace = trace_at(tag)
    with transaction.atomic():
        report = add_row(
            SiteReport(
                code=take_code(SITE_REPORT),
                tag=tag,
                kind=kind,
                words=words.strip(),
                contact=contact.strip(),
                trace=trace,
                received_at=at,
            ),
            refusal=CannotReport,
        )
        _write_down(report, _keep(report, photos, at=at), at=at)
    return report


def _keep(report: SiteReport, photos: Sequence[Photograph], *, at: datetime) -> list[SitePhoto]:
    rows = [
        SitePhoto(
            report=report,
            file=keep_made(
                content=photo.content,
                name=f"{report.code}-photograph-{position}.jpg",
                media_type="image/jpeg",
                at=at,
            ),
            original_sha256=photo.original_sha256,
            position=position,
        )
        for position, photo in enumerate(photos, 1)
    ]
    return [add_row(row, refusal=CannotReport) for row in rows]


def _write_down(report: SiteReport, photos: Sequence[SitePhoto], *, at: datetime) -> None:
    append(
        at=at,
        by=the_stranger(at=at),
        act=ClaimAct.SETTLE_REPORT,
        subject=report.code,
        detail={
            "deed": "receive",
            "kind": report.kind,
            "tag_sha256": text_hash(report.tag.code),
            "things": report.trace["things"],
            "trace_sha256": text_hash(canonical_text(report.trace)),
            "has_contact": bool(report.contact),
            "photos": [photo.file.sha256 for photo in photos],
            "originals": [photo.original_sha256 for photo in photos],
        },
        rows=[report, *photos, *(photo.file for photo in photos)],
    )
