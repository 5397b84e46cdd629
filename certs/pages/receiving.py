"""Receiving a reel in one screen: rope, heats, declared values, document, and what was measured.

It stands with the claims, as every reel is checked in the same act; what exists knows no claims.
"""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from certs.models import ReceivingCheck
from certs.pages.forms.receiving import ReceiveCheckedForm
from certs.pages.rendering import show
from certs.services.receive_checked import receive_checked_goods
from inventory.pages.acting import deed, done, for_act, initial_from, perform, typed
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.reels import HeatRows
from inventory.pages.forms.rows import Rows
from inventory.pages.rope_facts import facts_of_designation
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.services.goods_in import HeatNamed, PaperHandedIn


@for_act(Act.RECEIVE_REEL)
def receive_reel(request: HttpRequest) -> HttpResponse:
    """Ask for a reel and what came with it; read the designation back on request."""
    form = ReceiveCheckedForm(*typed(request), initial=initial_from(request, "mill", "designation"))
    heats = HeatRows(typed(request)[0], prefix="heat")
    check = perform(request, lambda: _receive(request, form, heats), form, heats)
    if check is not None:
        said = f"Reel {check.reel.code} is received and {told_of(check)}"
        return done(request, said, "certs:receiving_check", check.code)
    understood, problem = _understood(form)
    return show(
        request,
        "certs/receive_reel.html",
        area="reels",
        form=form,
        heats=heats,
        understood=understood,
        problem=problem,
        cancel=reverse("inventory:reels"),
    )


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


def _understood(form: Ask) -> tuple[object, str]:
    """Return what the designation typed so far says, or why it says nothing."""
    text = form.data.get("designation", "") if form.is_bound else form.initial.get("designation")
    if not text:
        return None, ""
    try:
        return facts_of_designation(text), ""
    except Refusal as refusal:
        return None, refusal.message
