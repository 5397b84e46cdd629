"""Decides how batches of drafts are shown while they are issued and after: how far, and what not.

A page that is open asks for its progress every two seconds, and no more once the batch is over;
without script a link asks for it. Choosing drafts is decided in `issue_several`.
"""

from tempfile import TemporaryFile
from typing import Final
from zipfile import ZIP_STORED, ZipFile

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from certs.models import IssueBatch
from certs.pages.acting import for_claim
from certs.pages.batch_tables import BatchTold, table_of_batches, table_of_lines, told_batch
from certs.pages.handing_out import streamed
from certs.pages.rendering import allowed_acts, show
from certs.queries.issue_batches import (
    batch_of,
    batches,
    failed_lines,
    lines_of,
    papers_of_batch,
    progress_of,
)
from certs.rules.roles import ClaimAct
from certs.services.issue_batch import stop_batch, take_up_batch
from certs.tasks.issue_many import issue_many
from inventory.pages.acting import deed, done, found, person_of, signed_in
from inventory.pages.rendering import show_list
from inventory.queries.kept_files import FileIsNotAsKept, read_file
from inventory.rules.refusal import Refusal

# By this a page that is open says how many quarters it has told already.
TOLD: Final = "told"


@signed_in
def issue_batches(request: HttpRequest) -> HttpResponse:
    """All batches, the latest first."""
    now = timezone.now()
    return show_list(
        request,
        "certs/issue_batches.html",
        rows=batches(),
        table=lambda rows: table_of_batches(rows, now=now),
        area="certificates",
        noun="batches",
        allowed=allowed_acts(request),
    )


@signed_in
def issue_batch(request: HttpRequest, code: str) -> HttpResponse:
    """One batch: how far it is, what was not issued and why, and every draft of it."""
    shown = found(batch_of(code))
    return show_list(
        request,
        "certs/issue_batch.html",
        rows=lines_of(shown),
        table=table_of_lines,
        area="certificates",
        noun="drafts",
        batch=shown,
        told=_told(shown),
        failed=failed_lines(shown),
        allowed=allowed_acts(request),
    )


@signed_in
def batch_progress(request: HttpRequest, code: str) -> HttpResponse:
    """How far a batch is, as the part of its page that is asked for anew."""
    shown = found(batch_of(code))
    told = _told(shown)
    answer = show(
        request,
        "certs/_batch_progress.html",
        area="certificates",
        batch=shown,
        told=told,
        is_part=True,
        says=str(told.progress.quarters) != request.GET.get(TOLD),
    )
    if told.progress.is_finished:
        answer["HX-Refresh"] = "true"
    return answer


@require_POST
@for_claim(ClaimAct.ISSUE_CERTIFICATE)
def stop(request: HttpRequest, code: str) -> HttpResponse:
    """Stop a batch after the paper that is being issued."""
    shown = found(batch_of(code))
    try:
        stop_batch(batch=shown, **deed(request))
    except Refusal as refusal:
        return _refused(request, refusal, code)
    return done(request, f"{code} stops after the paper in hand.", "certs:issue_batch", code)


@require_POST
@for_claim(ClaimAct.ISSUE_CERTIFICATE)
def go_on(request: HttpRequest, code: str) -> HttpResponse:
    """Hand a batch over again on which nobody works."""
    shown = found(batch_of(code))
    try:
        taken_up = take_up_batch(batch=shown, **deed(request))
    except Refusal as refusal:
        return _refused(request, refusal, code)
    issue_many.enqueue(taken_up.code, person_of(request).username)
    return done(request, f"{code} is handed over again.", "certs:issue_batch", code)


@signed_in
def batch_papers(_request: HttpRequest, code: str) -> HttpResponse:
    """Every paper of a batch as one archive."""
    papers = papers_of_batch(found(batch_of(code)))
    found(papers or None)
    file = TemporaryFile()  # noqa: SIM115 -- closed by the answer once it is sent
    try:
        with ZipFile(file, "w", ZIP_STORED) as archive:  # a PDF is packed already
            for number, stored in papers:
                archive.writestr(f"{number}.pdf", read_file(stored))
    except FileIsNotAsKept as problem:
        file.close()
        return HttpResponse(problem.message, content_type="text/plain; charset=utf-8", status=500)
    file.seek(0)
    return streamed(file, name=f"{code}.zip")


def _refused(request: HttpRequest, refusal: Refusal, code: str) -> HttpResponse:
    messages.error(request, refusal.message)
    return redirect("certs:issue_batch", code)


def _told(batch: IssueBatch) -> BatchTold:
    return told_batch(batch, progress_of(batch, now=timezone.now()))
