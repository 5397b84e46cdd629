"""Decides how a recall is told from its hold, and how its letters are written and followed up."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from certs.models import RecallNotice
from certs.pages.acting import for_claim
from certs.pages.forms.recall_notices import AnswerForm, LettersForm, NoticeFilter, SentForm
from certs.pages.handing_out import kept
from certs.pages.recall import told_recall
from certs.pages.recall_notices_table import (
    state_of,
    table_of_items,
    table_of_notices,
    table_of_papers,
    table_of_standings,
)
from certs.pages.rendering import allowed_acts, show
from certs.queries.recall_notices import notice_of, notices, notices_of, standings
from certs.queries.recall_of_hold import recall_of_hold
from certs.rules.roles import ClaimAct
from certs.services.answer_recall import record_acknowledgement, record_sent
from certs.services.recall_notices import write_letters
from inventory.pages.acting import deed, done, found, perform, signed_in, typed
from inventory.pages.facts import Fact, told
from inventory.pages.holds_table import reach_of
from inventory.pages.holds_table import state_of as state_of_hold
from inventory.pages.links import fact_of
from inventory.pages.reading import moment
from inventory.pages.rendering import show_list
from inventory.pages.sorting import Sorts
from inventory.queries.hold_subject import subject_of
from inventory.queries.things import hold_of_code

_OPEN = {"": True, "answered": False, "all": None}

_SORTS: Sorts = {
    "Letter": ("id",),
    "To": ("customer__name",),
    "Hold": ("hold_id",),
    "Written": ("written_at",),
}


@signed_in
def hold_recall(request: HttpRequest, code: str) -> HttpResponse:
    """Show what a hold reaches, who has it, and who was told."""
    hold = found(hold_of_code(code))
    recall = recall_of_hold(hold)
    customers = standings(hold, recall) if recall else ()
    return show(
        request,
        "certs/hold_recall.html",
        area="holds",
        hold=hold,
        state=state_of_hold(hold),
        facts=told(
            fact_of("On", subject_of(hold), note=reach_of(hold)),
            Fact("What is in doubt", hold.reason),
            Fact("Placed", moment(hold.placed_at), note=f"by {hold.placed_by}"),
        ),
        told=told_recall(recall) if recall else None,
        customers=table_of_standings(customers),
        untold=sum(1 for one in customers if one.unwritten.codes),
        letters=table_of_notices(notices_of(hold)),
    )


@for_claim(ClaimAct.WRITE_RECALL)
def write(request: HttpRequest, code: str) -> HttpResponse:
    """Ask what the customers are to be told, and write the letters."""
    hold = found(hold_of_code(code))
    form = LettersForm(*typed(request), initial={"words": hold.reason})
    letters = perform(
        request, lambda: write_letters(hold=hold, **form.values, **deed(request)), form
    )
    if letters is not None:
        codes = ", ".join(letter.code for letter in letters)
        said = f"Written: {codes}. Send them now." if codes else "Everybody was told already."
        return done(request, said, "certs:hold_recall", hold.code)
    return show(
        request,
        "certs/write_letters.html",
        area="holds",
        hold=hold,
        form=form,
        submit="Write the letters",
        cancel=reverse("certs:hold_recall", args=[hold.code]),
    )


@signed_in
def recall_notices(request: HttpRequest) -> HttpResponse:
    """List the letters; those without an answer unless asked otherwise."""
    filters = NoticeFilter(request.GET)
    return show_list(
        request,
        "certs/recall_notices.html",
        rows=notices(is_open=_OPEN[filters.read("state") or ""]),
        table=table_of_notices,
        area="recalls",
        noun="letters",
        sorts=_SORTS,
        filters=filters,
        allowed=allowed_acts(request),
    )


@signed_in
def recall_notice(request: HttpRequest, code: str) -> HttpResponse:
    """Show a letter and what became of it."""
    notice = found(notice_of(code))
    return show(
        request,
        "certs/recall_notice.html",
        area="recalls",
        notice=notice,
        state=state_of(notice),
        facts=_facts(notice),
        items=table_of_items(notice),
        papers=table_of_papers(notice),
    )


@signed_in
def letter(request: HttpRequest, code: str) -> HttpResponse:  # noqa: ARG001 -- a view takes it
    """Hand out the letter as PDF."""
    return kept(found(notice_of(code)).letter)


@for_claim(ClaimAct.WRITE_RECALL)
def sent(request: HttpRequest, code: str) -> HttpResponse:
    """Record that a letter left the house."""
    notice = found(notice_of(code))
    form = SentForm(*typed(request))
    gone = perform(
        request, lambda: record_sent(notice=notice, **form.values, **deed(request)), form
    )
    if gone is not None:
        return done(request, f"{code} is recorded as sent.", "certs:recall_notice", code)
    return _ask(request, "certs/recall_sent.html", notice, form, submit="It is sent")


@for_claim(ClaimAct.WRITE_RECALL)
def answer(request: HttpRequest, code: str) -> HttpResponse:
    """Record the answer of the customer."""
    notice = found(notice_of(code))
    form = AnswerForm(*typed(request), initial={"when": timezone.now()})
    got = perform(
        request,
        lambda: record_acknowledgement(notice=notice, **form.values, **deed(request)),
        form,
    )
    if got is not None:
        return done(request, f"The answer to {code} is recorded.", "certs:recall_notice", code)
    return _ask(request, "certs/recall_answer.html", notice, form, submit="Record the answer")


def _ask(
    request: HttpRequest, template: str, notice: RecallNotice, form: object, *, submit: str
) -> HttpResponse:
    return show(
        request,
        template,
        area="recalls",
        notice=notice,
        form=form,
        submit=submit,
        cancel=reverse("certs:recall_notice", args=[notice.code]),
    )


def _facts(notice: RecallNotice) -> list[Fact]:
    hold = notice.hold
    return told(
        Fact("To", notice.customer.name, note=notice.customer.code),
        fact_of("About hold", hold, note="" if hold.released_at is None else "released since"),
        Fact("What it says is in doubt", str(notice.facts["words"])),
        Fact("Goes with", ", ".join(notice.facts["follows"])),
        Fact("Written", moment(notice.written_at), note=f"by {notice.written_by}"),
        Fact("Sent", moment(notice.sent_at), note=f"{notice.sent_how}, by {notice.sent_by}"),
        Fact("Answered", moment(notice.acknowledged_at), note=f"by {notice.acknowledged_by}"),
        Fact("What was found", notice.acknowledgement),
        Fact("SHA-256 of the letter", notice.letter.sha256),
    )
