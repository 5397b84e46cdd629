"""Receiving a reel in one screen: rope, heats, declared values, document, and what was measured.

It stands with the claims, as every reel is checked in the same act; what exists knows no claims.
"""

from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.views.decorators.http import require_POST
from django_htmx.http import HttpResponseClientRedirect

from certs.models import ReceivingCheck
from certs.pages.forms.receiving import ReceiveCheckedForm
from certs.pages.receiving_so_far import so_far
from certs.pages.rendering import show
from certs.queries.maker_record import mill_of_code
from certs.services.receive_checked import receive_checked_goods
from inventory.models import Party
from inventory.pages.acting import (
    AGAIN,
    deed,
    done,
    for_act,
    initial_from,
    perform,
    person_of,
    typed,
)
from inventory.pages.forms.reels import HeatRows
from inventory.pages.forms.rows import Rows
from inventory.queries.receipts import last_receipt_by
from inventory.queries.registers import parties
from inventory.rules.roles import Act
from inventory.services.goods_in import HeatNamed, PaperHandedIn


@for_act(Act.RECEIVE_REEL)
def receive_reel(request: HttpRequest) -> HttpResponse:
    """Ask for a reel and what came with it; say on request how it is understood so far."""
    form = ReceiveCheckedForm(*typed(request), initial=_usual(request))
    heats = HeatRows(typed(request)[0], prefix="heat")
    check = perform(request, lambda: _receive(request, form, heats), form, heats)
    if check is not None:
        said = f"Reel {check.reel.code} is received and {told_of(check)}"
        return _sent_on(request, done(request, said, "certs:receiving_check", check.code))
    if request.POST.get(AGAIN, "").startswith("more-"):
        # The new row is the next thing that anybody wants to type into.
        heats.forms[-1].fields["number"].widget.attrs["autofocus"] = True
    return show(
        request,
        "certs/receive_reel.html",
        area="reels",
        form=form,
        heats=heats,
        so_far=so_far(form, heats),
        mills=parties(kind=Party.Kind.MILL),
        cancel=reverse("inventory:reels"),
    )


@require_POST
@for_act(Act.RECEIVE_REEL)
def receiving_findings(request: HttpRequest) -> HttpResponse:
    """Say how a form that is still being filled in is understood; nothing is recorded."""
    form = ReceiveCheckedForm(*typed(request))
    heats = HeatRows(typed(request)[0], prefix="heat")
    for asked in (form, heats):
        asked.hush()
    return show(request, "certs/_receiving_so_far.html", area="reels", so_far=so_far(form, heats))


def told_of(check: ReceivingCheck) -> str:
    """Tell the outcome of a check, to end a sentence with."""
    if check.hold is not None:
        return f"checked: it does not agree, and is on hold ({check.hold.code})."
    return f"checked: it {check.get_outcome_display()}."


def _receive(request: HttpRequest, form: ReceiveCheckedForm, heats: Rows) -> ReceivingCheck:
    facts = {k: v for k, v in form.received.items() if k not in {*form.PAPER, "file"}}
    named = [HeatNamed(**row) for row in heats.filled]
    return receive_checked_goods(
        **facts, heats=named, paper=_paper(form), measured=form.measured, **deed(request)
    )


def _paper(form: ReceiveCheckedForm) -> PaperHandedIn | None:
    scan = form.values["file"]
    if scan is None:
        return None
    said: dict[str, Any] = {name: form.values[name] for name in form.PAPER}
    return PaperHandedIn(**said, content=scan.read(), file_name=scan.name or "")


def _usual(request: HttpRequest) -> dict[str, Any]:
    """Offer mill and place of this person's last receipt, unless the address names others."""
    last = last_receipt_by(person_of(request))
    usual: dict[str, Any] = {"mill": last.mill, "location": last.location} if last else {}
    asked = initial_from(request, "mill", "designation")
    if "mill" in asked:
        asked["mill"] = mill_of_code(asked["mill"]) or asked["mill"]
    return usual | asked


def _sent_on(request: HttpRequest, answer: HttpResponseRedirect) -> HttpResponse:
    """Have the browser itself follow where its script sent the form, so that the page changes."""
    is_by_script = request.headers.get("HX-Request") == "true"
    return HttpResponseClientRedirect(answer.url) if is_by_script else answer
