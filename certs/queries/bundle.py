"""Gathers everything that the record holds of one story, as known now or on a past day.

What becomes of it, files in an archive, is decided in `certs.services.bundle`.
"""

from datetime import date, datetime

from certs.queries import bundle_rows
from certs.queries.as_known import end_of, trace_as_known
from certs.queries.bundle_shapes import Bundled
from certs.queries.known_moments import moments_of
from certs.queries.story_holds import holds_of
from certs.queries.trace import trace_code
from inventory.queries.checkpoints import standing_checkpoint


def bundled(
    code: str,
    *,
    on: date | None,
    at: datetime,
    from_mm: int | None = None,
    to_mm: int | None = None,
) -> Bundled:
    """Gather what is recorded about a code, or about a stretch of a reel in mm.

    Args:
        on: a past day, at whose end everything is told as it was known; None: now.
        at: the moment of the reading.

    Raises:
        Refusal: as `trace_code` and `trace_as_known`.
    """
    if on is None:
        story = trace_code(code, from_mm=from_mm, to_mm=to_mm)
    else:
        story = trace_as_known(code, on=on, from_mm=from_mm, to_mm=to_mm)
    until = None if on is None else end_of(on)
    certificates = bundle_rows.certificates_of(story)
    checks = bundle_rows.checks_of(story, until=until)
    documents = bundle_rows.documents_of(story, until=until)
    holds = [one for one in holds_of(story) if until is None or one.hold.placed_at < until]
    reports = bundle_rows.reports_of(story, until=until)
    notices = bundle_rows.notices_of(holds, until=until)
    others = {check.code for check in checks} | {paper.code for paper in documents}
    others |= {report.code for report in reports} | {notice.code for notice in notices}
    subjects = {*bundle_rows.subjects_of(story, holds=holds, others=others)} - {""}
    entries = bundle_rows.entries_about(subjects, until=until)
    return Bundled(
        story=story,
        on=on,
        read_at=at,
        until=until or at,
        recorded=moments_of(story, until=until or at).recorded,
        certificates=certificates,
        renewals=bundle_rows.renewals_of(certificates, until=until),
        mill_documents=documents,
        breaking_tests=bundle_rows.breaking_tests_of(story),
        proof_tests=bundle_rows.proof_tests_of(story),
        wire_tests=bundle_rows.wire_tests_of(story),
        checks=checks,
        holds=holds,
        reports=reports,
        notices=notices,
        entries=entries,
        people=bundle_rows.people_in(entries),
        checkpoint=standing_checkpoint(),
        former=None if until is None else bundle_rows.checkpoint_before(until),
    )
