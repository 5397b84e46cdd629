"""Decides how the story of a thing is found; how it is laid out, says `story_told`."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.pages.acting import may_do
from certs.pages.addresses import story_of as story_page
from certs.pages.forms.find import TraceForm
from certs.pages.rendering import show
from certs.pages.story_told import told
from certs.queries.as_known import trace_on
from certs.queries.trace_find import CannotTrace
from certs.queries.trace_shapes import Story
from certs.rules.roles import ClaimAct
from inventory.pages.acting import signed_in
from inventory.queries.find import heats_of_number
from inventory.rules.refusal import Refusal


@dataclass(frozen=True, slots=True)
class Choice:
    """One of several things that were meant, perhaps."""

    code: str
    text: str
    href: str


@signed_in
def trace(request: HttpRequest) -> HttpResponse:
    """The story of whatever the code stands for."""
    form = TraceForm(request.GET) if "code" in request.GET else TraceForm()
    story: Story | None = None
    choices: list[Choice] = []
    if form.is_bound and form.is_valid():
        story, choices = _found(form)
    return show(
        request,
        "certs/trace.html",
        area="trace",
        form=form,
        told=story
        and told(
            story,
            on=form.cleaned_data["on"],
            today=timezone.localdate(),
            reads_reports=may_do(request, ClaimAct.READ_REPORTS),
        ),
        choices=choices,
        may_take_bundle=may_do(request, ClaimAct.TAKE_BUNDLE),
    )


def _found(form: TraceForm) -> tuple[Story | None, list[Choice]]:
    """Find the story; several things of that name are given as choices, none as an error."""
    code, asked = form.cleaned_data["code"], {**form.cleaned_data}
    asked.pop("code")
    heats = heats_of_number(code)
    try:
        found = heats[0].code if len(heats) == 1 else code
        return trace_on(found, **asked, today=timezone.localdate()), []
    except CannotTrace as refusal:
        choices = [Choice(one, "", story_page(one)) for one in refusal.choices]
        choices += [Choice(heat.code, str(heat.mill), story_page(heat.code)) for heat in heats]
        if not choices:
            form.add_error("code", refusal.message)
        return None, choices
    except Refusal as refusal:
        field = refusal.field if refusal.field in form.fields else "at_mm"
        form.add_error(field, refusal.message)
        return None, []
