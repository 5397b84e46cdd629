"""Decides what the first page shows: what waits for someone, and nothing else."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.pages.acting import may_do
from certs.pages.incident_lists import incident_lists
from certs.pages.rendering import show
from certs.pages.waiting_list import waiting_lists
from certs.queries.incidents import incidents
from certs.queries.waiting import waiting
from certs.rules.roles import ClaimAct
from certs.services.signing_trouble import signing_trouble
from inventory.pages.acting import signed_in
from inventory.queries.receipts import is_any_reel_on_record


@signed_in
def today(request: HttpRequest) -> HttpResponse:
    """What waits, group by group; groups of which nothing waits are only named."""
    on = timezone.localdate()
    reads = may_do(request, ClaimAct.READ_REPORTS)
    lists = [
        *incident_lists(incidents(), reads_reports=reads),
        *waiting_lists(waiting(on=on, key_trouble=signing_trouble()), on=on),
    ]
    return show(
        request,
        "certs/today.html",
        area="today",
        on=on,
        lists=[one for one in lists if one.count],
        others=", ".join(one.empty for one in lists if not one.count and not one.beyond),
        is_new=not is_any_reel_on_record(),
    )
