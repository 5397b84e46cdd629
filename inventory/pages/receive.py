"""Receiving a reel in one screen: rope, heats, declared values, document."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from inventory.models import Reel
from inventory.pages.acting import deed, done, for_act, initial_from, perform, typed
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.reels import HeatRows, ReceiveForm
from inventory.pages.forms.rows import Rows
from inventory.pages.rendering import show
from inventory.pages.rope_facts import facts_of_designation
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.services.goods_in import HeatNamed, PaperHandedIn, receive_goods


@for_act(Act.RECEIVE_REEL)
def receive(request: HttpRequest) -> HttpResponse:
    """Ask for a reel and what came with it; read the designation back on request."""
    form = ReceiveForm(*typed(request), initial=initial_from(request, "mill", "designation"))
    heats = HeatRows(typed(request)[0], prefix="heat")
    reel = perform(request, lambda: _receive(request, form, heats), form, heats)
    if reel is not None:
        return done(request, f"Reel {reel.code} is received.", "inventory:reel", reel.code)
    understood, problem = _understood(form)
    return show(
        request,
        "inventory/receive.html",
        area="reels",
        form=form,
        heats=heats,
        understood=understood,
        problem=problem,
        cancel=reverse("inventory:reels"),
    )


def _receive(request: HttpRequest, form: ReceiveForm, heats: Rows) -> Reel:
    facts = {k: v for k, v in form.values.items() if k not in {*form.PAPER, "file"}}
    named = [HeatNamed(**row) for row in heats.filled]
    return receive_goods(**facts, heats=named, paper=_paper(form), **deed(request))


def _paper(form: ReceiveForm) -> PaperHandedIn | None:
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
