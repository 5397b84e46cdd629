"""Finds the incidents that wait for someone: reports nobody has settled, letters without an answer.

Each list is cut to what fits a start page, with the whole count beside it.
"""

from dataclasses import dataclass

from certs.models import RecallNotice, SiteReport
from certs.queries.recall_notices import open_notices
from certs.queries.site_reports import reports
from certs.queries.waiting import SHOWN, Some


@dataclass(frozen=True, slots=True)
class Incidents:
    """Reports and letters that wait, each list with its oldest first."""

    reports: Some[SiteReport]
    letters: Some[RecallNotice]


def incidents() -> Incidents:
    """Find what waits."""
    waiting = reports(is_open=True).order_by("id")
    letters = open_notices()
    return Incidents(
        Some(list(waiting[:SHOWN]), waiting.count()),
        Some(list(letters[:SHOWN]), letters.count()),
    )
