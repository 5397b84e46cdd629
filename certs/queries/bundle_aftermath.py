"""Gives what came of a thing after it left: reports from site, and letters of recalls.

How to reach a reporter is for those who settle reports, and stays out. A closing or an answer that
came after the day asked about is left out.
"""

from collections.abc import Iterator
from datetime import datetime

from certs.documents.bundle_archive import BundleFile
from certs.models import RecallNotice, SiteReport
from certs.queries.bundle_kept import json_file, kept_file
from certs.queries.bundle_shapes import Bundled
from certs.queries.row_facts import Facts, person_told, row_facts

_CLOSED = {"closed_at": None, "closed_by": None, "close_reason": ""}
_SENT = {"sent_at": None, "sent_by": None, "sent_how": ""}
_ANSWERED = {
    "acknowledged_at": None,
    "acknowledged_by": "",
    "acknowledgement": "",
    "acknowledgement_recorded_by": None,
}


def aftermath_files(bundle: Bundled, *, with_names: bool) -> Iterator[BundleFile]:
    """Yield the reports made at the story's tags, and the letters written from its holds."""
    for report in bundle.reports:
        yield from _report_files(report, bundle.until, with_names=with_names)
    for notice in bundle.notices:
        yield from _notice_files(notice, bundle.until, with_names=with_names)


def aftermath_told(bundle: Bundled, *, with_names: bool) -> Facts:
    """Tell the same as the readable report prints it, as of the moment asked about."""
    until = bundle.until
    return {
        "site_reports": [_report_told(one, until, with_names) for one in bundle.reports],
        "notices": [_notice_told(one, until) for one in bundle.notices],
    }


def _report_told(report: SiteReport, until: datetime, with_names: bool) -> Facts:  # noqa: FBT001 -- private
    who = report.closed_by
    return {
        "code": report.code,
        "received_at": report.received_at,
        "kind": report.get_kind_display(),
        "words": report.words,
        "photos": len(report.photos.all()),
        "closed_at": report.closed_at,
        "closed_by": who and person_told(who, with_names=with_names),
        "close_reason": report.close_reason,
        **_undone(report.closed_at, _CLOSED, until),
    }


def _notice_told(notice: RecallNotice, until: datetime) -> Facts:
    return {
        "code": notice.code,
        "customer": notice.customer.code,
        "hold": notice.hold.code,
        "sent_at": notice.sent_at,
        "sent_how": notice.sent_how,
        "acknowledged_at": notice.acknowledged_at,
        "acknowledgement": notice.acknowledgement,
        **_undone(notice.sent_at, _SENT, until),
        **_undone(notice.acknowledged_at, _ANSWERED, until),
    }


def _report_files(report: SiteReport, until: datetime, *, with_names: bool) -> Iterator[BundleFile]:
    facts = row_facts(report, with_names=with_names)
    del facts["contact"]
    facts |= _undone(report.closed_at, _CLOSED, until)
    facts["tag"] = report.tag.code
    folder = f"site-reports/{report.code}"
    words = f"Report from site {report.code}: {report.get_kind_display()}"
    yield json_file(f"{folder}/report.json", words, facts)
    for photo in report.photos.all():
        words = f"Photograph {photo.position} of {report.code}, as it is kept"
        yield kept_file(f"{folder}/photograph-{photo.position}", words, photo.file)


def _notice_files(
    notice: RecallNotice, until: datetime, *, with_names: bool
) -> Iterator[BundleFile]:
    facts = row_facts(notice, with_names=with_names)
    facts |= _undone(notice.sent_at, _SENT, until)
    facts |= _undone(notice.acknowledged_at, _ANSWERED, until)
    folder = f"recall-notices/{notice.code}"
    words = f"Recall notice {notice.code} to {notice.customer.code}"
    yield json_file(f"{folder}/notice.json", words, facts)
    yield kept_file(f"{folder}/{notice.code}", f"{words}, the letter", notice.letter)


def _undone(at: datetime | None, blank: Facts, until: datetime) -> Facts:
    """Give what a row says while something has not happened; nothing where it had."""
    return blank if at is not None and at >= until else {}
