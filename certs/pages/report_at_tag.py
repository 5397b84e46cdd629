"""Decides how anyone reports damage or failure at a tag: no sign-in, no script, and a receipt.

The address of the page leads here, so it is checked that the form was ours (CSRF), by a cookie
that this page alone sets among the public ones. How often one address may report is limited.
"""

from django.http import HttpRequest, HttpResponse
from django.middleware.csrf import get_token
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from certs.models import SiteReport, Tag
from certs.pages.forms.site_reports import SiteReportForm
from certs.pages.public_page import kept_nowhere, show_anyone
from certs.queries.site_reports import report_at, tag_on_site
from certs.queries.tag_status import tag_answer
from certs.rules.report_advice import do_now
from certs.services.report_from_site import report_from_site
from inventory.pages.acting import perform, typed
from inventory.pages.rate import limited

_LONGEST_CODE = 40


@limited("tag")
@limited("report", methods=frozenset({"POST"}))
@require_http_methods(["GET", "HEAD", "POST"])
def report_at_tag(request: HttpRequest, text: str) -> HttpResponse:
    """Ask what was seen, and take the report."""
    tag = _tag(text)
    if tag is None:
        return show_anyone(request, "certs/tag_unknown.html", status=404)
    form = SiteReportForm(*typed(request))
    report = perform(request, lambda: _reported(tag, form), form)
    if report is not None:
        return kept_nowhere(redirect("certs:report_receipt", tag.code, report.code))
    answer = tag_answer(tag.code)
    return show_anyone(
        request,
        "certs/report_at_tag.html",
        answer=answer,
        form=form,
        csrf_token=get_token(request),
    )


@limited("tag")
@require_safe
def report_receipt(request: HttpRequest, text: str, code: str) -> HttpResponse:
    """Say that the report is on record, its number, and what to do now."""
    tag = _tag(text)
    report = None if tag is None else report_at(tag, code=code)
    if tag is None or report is None:
        return show_anyone(request, "certs/tag_unknown.html", status=404)
    return show_anyone(
        request, "certs/report_receipt.html", report=report, tag=tag, do_now=do_now(report.kind)
    )


def _tag(text: str) -> Tag | None:
    return tag_on_site(text) if len(text) <= _LONGEST_CODE else None


def _reported(tag: Tag, form: SiteReportForm) -> SiteReport:
    return report_from_site(tag=tag, **form.values, at=timezone.now())
