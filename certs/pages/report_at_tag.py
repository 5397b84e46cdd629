"""Decides how anyone reports damage or failure at a tag: no sign-in, no script, and a receipt.

The address of the page leads here, so it is checked that the form was ours (CSRF), by a cookie
that this page alone sets among the public ones. How often one address may report is limited.
"""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.middleware.csrf import get_token
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from certs.models import SiteReport, Tag
from certs.pages.forms.site_reports import SiteReportForm
from certs.pages.public_language import choice_in, spoken
from certs.pages.public_page import kept_nowhere, no_such_tag, show_on_site, wait_on_site
from certs.pages.saying import moment_told, told, translated
from certs.pages.tag_shown import MOST_PIECES
from certs.queries.site_reports import report_at, tag_on_site
from certs.queries.tag_status import TagAnswer, tag_answer
from certs.rules.report_advice import do_now
from certs.services.report_from_site import report_from_site
from inventory.pages.acting import perform, typed
from inventory.pages.rate import limited

_LONGEST_CODE = 40


@limited("tag", says=wait_on_site)
@limited("report", methods=frozenset({"POST"}), says=wait_on_site)
@require_http_methods(["GET", "HEAD", "POST"])
@spoken
def report_at_tag(request: HttpRequest, text: str) -> HttpResponse:
    """Ask what was seen, and take the report."""
    tag = _tag(text)
    answer = None if tag is None else tag_answer(tag.code)
    if tag is None or answer is None:
        return no_such_tag(request)
    form = SiteReportForm(*typed(request))
    report = perform(request, lambda: _reported(tag, form), form)
    if report is not None:
        to = redirect("certs:report_receipt", tag.code, report.code)
        to["Location"] += choice_in(request)
        return kept_nowhere(to)
    return show_on_site(
        request,
        "certs/report_at_tag.html",
        **_item(answer),
        form=form,
        csrf_token=get_token(request),
    )


@limited("tag", says=wait_on_site)
@require_safe
@spoken
def report_receipt(request: HttpRequest, text: str, code: str) -> HttpResponse:
    """Say that the report is on record, its number, and what to do now."""
    tag = _tag(text)
    report = None if tag is None else report_at(tag, code=code)
    if tag is None or report is None:
        return no_such_tag(request)
    return show_on_site(
        request,
        "certs/report_receipt.html",
        report=report,
        received=moment_told(report.received_at),
        tag=tag,
        do_now=translated(do_now(report.kind)),
    )


def _item(answer: TagAnswer) -> dict[str, Any]:
    """Name the item that is reported, so that nobody reports another."""
    shown = answer.identity[:MOST_PIECES]
    return {
        "code": answer.code,
        "what": told(answer.what),
        "identity": [(told(word), told(text)) for word, text in shown],
    }


def _tag(text: str) -> Tag | None:
    return tag_on_site(text) if len(text) <= _LONGEST_CODE else None


def _reported(tag: Tag, form: SiteReportForm) -> SiteReport:
    return report_from_site(tag=tag, **form.values, at=timezone.now())
