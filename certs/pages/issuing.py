"""Decides how a draft is issued or thrown away, and how an issued certificate is withdrawn."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from certs.pages.acting import for_claim
from certs.pages.forms.drafts import ReasonForm
from certs.pages.rendering import show
from certs.queries.claims import certificate_of
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


@require_POST
@for_claim(ClaimAct.DRAFT_CERTIFICATE)
def discard(request: HttpRequest, code: str) -> HttpResponse:
    """Throw a draft away."""
    draft = found(certificate_of(code))
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
