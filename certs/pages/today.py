"""Decides what the first page shows: what waits for someone."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.pages.rendering import show
from certs.pages.waiting_list import waiting_lists
from certs.queries.waiting import waiting
from inventory.pages.acting import signed_in


@signed_in
def today(request: HttpRequest) -> HttpResponse:
    """What waits: holds, failed tests, drafts, calibrations, reels without a basis."""
    on = timezone.localdate()
    return show(
        request, "certs/today.html", area="today", on=on, lists=waiting_lists(waiting(on=on), on=on)
    )
