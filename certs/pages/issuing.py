"""Decides how a draft is issued or thrown away, and how an issued certificate is withdrawn."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from certs.models import Certificate
from certs.pages.acting import for_claim
from certs.pages.certificate_tables import name_of
from certs.pages.drafts_offered import what_it_is_of
from certs.pages.forms.drafts import ReasonForm
from certs.pages.rendering import show
from certs.queries.claims import certificate_of
from certs.queries.papers_to_issue import codes_of_pieces
from certs.rules.roles import ClaimAct
from certs.services.drafts import discard_draft
from certs.services.issue import issue_certificate
from certs.services.withdraw import withdraw_certificate
from inventory.pages.acting import deed, done, found, perform, typed
from inventory.rules.refusal import Refusal


@require_POST
@for_claim(ClaimAct.ISSUE_CERTIFICATE)
def issue(request: HttpRequest, code: str) -> HttpResponse:
    """Issue a draft."""
    draft = found(certificate_of(code))
    try:
        issued = issue_certificate(certificate=draft, **deed(request))
    except Refusal as refusal:
        messages.error(request, refusal.message)
        return redirect("certs:certificate", code)
    return done(request, f"{issued.number} is issued.", "certs:certificate", str(issued.number))


@for_claim(ClaimAct.DRAFT_CERTIFICATE)
def discard(request: HttpRequest, code: str) -> HttpResponse:
    """Throw a draft away; as that cannot be undone, it is asked first."""
    draft = found(certificate_of(code))
    if draft.state != Certificate.State.DRAFT:
        messages.error(request, f"{draft.number} is issued: withdraw it instead.")
        return redirect("certs:certificate", name_of(draft))
    if request.method != "POST":
        of = what_it_is_of(draft, piece_codes=codes_of_pieces([draft])[draft.pk])
        return show(request, "certs/discard.html", area="certificates", name=code, of=of)
    try:
        discard_draft(certificate=draft, **deed(request))
    except Refusal as refusal:
        messages.error(request, refusal.message)
        return redirect("certs:certificate", code)
    return done(request, f"Draft {code} is thrown away.", "certs:certificates")


@for_claim(ClaimAct.WITHDRAW_CERTIFICATE)
def withdraw(request: HttpRequest, code: str) -> HttpResponse:
    """Withdraw an issued certificate, for a reason that its tag will tell."""
    issued = found(certificate_of(code))
    form = ReasonForm(*typed(request))
    gone = perform(
        request,
        lambda: withdraw_certificate(certificate=issued, **form.values, **deed(request)),
        form,
    )
    if gone is not None:
        return done(request, f"{gone.number} is withdrawn.", "certs:certificate", code)
    return show(request, "certs/withdraw.html", area="certificates", form=form, certificate=issued)
