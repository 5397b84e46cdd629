"""Decides how many papers are drafted and issued together: chosen, looked at, handed over.

What a batch that was handed over tells is decided in `issue_batches`.
"""

from django.core.paginator import Page, Paginator
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from certs.models import Certificate
from certs.pages.acting import for_claim
from certs.pages.drafts_offered import offered_drafts, offered_things
from certs.pages.forms.issuing import EachForm, OfForm, SeveralForm
from certs.pages.rendering import show
from certs.queries.papers_to_issue import drafts_to_issue, things_without_paper
from certs.rules.roles import ClaimAct
from certs.services.issue_batch import start_batch
from certs.services.own_paper import draft_each
from certs.services.signing_trouble import signing_trouble
from certs.tasks.issue_many import issue_many
from inventory.models import Assembly, CutPiece
from inventory.pages.acting import deed, done, perform, person_of, typed
from inventory.rules.refusal import Refusal

# Each draft is held against the record to say what it lacks: a page of them takes a second or so.
DRAFTS_PER_PAGE = 25


@for_claim(ClaimAct.ISSUE_CERTIFICATE)
def issue_several(request: HttpRequest) -> HttpResponse:
    """Choose drafts, see what each lacks and what it will look like, and hand them over."""
    source = OfForm(request.GET)
    drafts = _drafts_of(source)
    form = SeveralForm(*typed(request), listed=drafts)
    batch = perform(request, lambda: start_batch(**form.values, **deed(request)), form)
    if batch is not None:
        issue_many.enqueue(batch.code, person_of(request).username)
        return done(request, f"Batch {batch.code} is handed over.", "certs:issue_batch", batch.code)
    page: Page[Certificate] = Paginator(drafts, DRAFTS_PER_PAGE).get_page(request.GET.get("page"))
    return show(
        request,
        "certs/issue_several.html",
        area="certificates",
        form=form,
        source=source,
        page=page,
        query=f"of={source.code}&" if source.code else "",
        offered=offered_drafts(
            list(page.object_list), on=timezone.localdate(), key_trouble=signing_trouble()
        ),
    )


@for_claim(ClaimAct.DRAFT_CERTIFICATE)
def draft_several(request: HttpRequest) -> HttpResponse:
    """Choose what of an order, a delivery or a reel gets a paper of its own."""
    source = OfForm(request.GET)
    things = _things_of(source)
    form = EachForm(*typed(request), listed=things)
    made = perform(request, lambda: draft_each(**form.values, **deed(request)), form)
    if made is not None:
        many = "1 draft is made." if len(made) == 1 else f"{len(made)} drafts are made."
        answer = done(request, f"{many} Look at each, then issue.", "certs:issue_several")
        answer["Location"] = f"{reverse('certs:issue_several')}?of={source.code}"
        return answer
    return show(
        request,
        "certs/draft_several.html",
        area="certificates",
        form=form,
        source=source,
        offered=offered_things(things),
    )


def _drafts_of(source: OfForm) -> list[Certificate]:
    try:
        return list(drafts_to_issue(source.code))
    except Refusal as refusal:
        source.add_error("of", refusal.message)
        return []


def _things_of(source: OfForm) -> list[CutPiece | Assembly]:
    if not source.code:
        return []
    try:
        return things_without_paper(source.code)
    except Refusal as refusal:
        source.add_error("of", refusal.message)
        return []
