"""Decides how a draft is made in one step, looked at as the paper it will be, and worded anew.

Which things a draft is made from by typing is decided in `drafting`.
"""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from certs.models import Certificate
from certs.pages.acting import for_claim
from certs.pages.addresses import page_of
from certs.pages.certificate_tables import name_of
from certs.pages.forms.drafts import RewordForm
from certs.pages.handing_out import shown_at_once
from certs.pages.rendering import show
from certs.queries.claims import certificate_of
from certs.queries.papers_to_issue import certifiable_of
from certs.rules.roles import ClaimAct
from certs.services.change_draft import change_draft
from certs.services.own_paper import draft_own
from certs.services.preview_draft import preview_draft
from certs.services.wording import wording_of
from inventory.pages.acting import deed, done, found, perform, signed_in, typed
from inventory.rules.refusal import Refusal


@require_POST
@for_claim(ClaimAct.DRAFT_CERTIFICATE)
def own_paper(request: HttpRequest, code: str) -> HttpResponse:
    """Draft the paper of one thing from the record, or lead to the draft it has."""
    thing = certifiable_of(code)
    if thing is None:
        raise Http404
    try:
        draft = draft_own(thing=thing, **deed(request))
    except Refusal as refusal:
        messages.error(request, refusal.message)
        return redirect(page_of(code))
    return redirect("certs:certificate", draft.draft_code)


@signed_in
def draft_preview(request: HttpRequest, code: str) -> HttpResponse:
    """The paper as it would be issued now, marked as a draft; it takes no number."""
    draft = found(certificate_of(code))
    if draft.state != Certificate.State.DRAFT:
        return redirect("certs:certificate", name_of(draft))
    try:
        pdf = preview_draft(certificate=draft, **deed(request))
    except Refusal as problem:
        messages.error(request, problem.message)
        return redirect("certs:certificate", code)
    return shown_at_once(pdf, name=f"{draft.draft_code}.pdf", media_type="application/pdf")


@for_claim(ClaimAct.DRAFT_CERTIFICATE)
def reword(request: HttpRequest, code: str) -> HttpResponse:
    """Change what a draft may choose."""
    draft = found(certificate_of(code))
    if draft.state != Certificate.State.DRAFT:
        return redirect("certs:certificate", name_of(draft))
    wording = wording_of(draft)
    start = {name: getattr(wording, name) for name in wording.__dataclass_fields__}
    form = RewordForm(*typed(request), kind=draft.kind, initial=start)
    changed = perform(
        request, lambda: change_draft(certificate=draft, **form.values, **deed(request)), form
    )
    if changed is not None:
        return done(request, f"Draft {code} is worded anew.", "certs:certificate", code)
    return show(request, "certs/reword.html", area="certificates", form=form, name=code)
