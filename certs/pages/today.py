"""Decides what the first page shows: what waits for someone."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.pages.acting import may_do
from certs.pages.incident_lists import incident_lists
from certs.pages.rendering import show
from certs.pages.waiting_list import waiting_lists
from certs.queries.incidents import incidents
from certs.queries.waiting import waiting
from certs.rules.roles import ClaimAct
from inventory.pages.acting import signed_in


@signed_in
def today(request: HttpRequest) -> HttpResponse:
    """What waits: incidents, holds, failed tests, drafts, calibrations, reels without a basis."""
    on = timezone.localdate()
    reads = may_do(request, ClaimAct.READ_REPORTS)
    lists = [
        *incident_lists(incidents(), reads_reports=reads),
        *waiting_lists(waiting(on=on), on=on),
    ]
    return show(request, "certs/today.html", area="today", on=on, lists=lists)
