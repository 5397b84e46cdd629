"""Decides how reports from site are told to the house, and how one is settled."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_safe

from certs.models import SiteReport
from certs.pages.acting import for_claim, may_do
from certs.pages.addresses import page_of
from certs.pages.forms.site_reports import (
    CloseReportForm,
    ForgetForm,
    HoldReportedForm,
    ReportFilter,
)
from certs.pages.handing_out import kept
from certs.pages.rendering import allowed_acts, show
from certs.pages.site_reports_table import state_of, stories_told, table_of_reports
from certs.queries.site_reports import photo_of, report_of, reports, things_of
from certs.rules.roles import ClaimAct
from certs.services.settle_report import close_report, forget_contact, hold_reported
from inventory.pages.acting import deed, done, found, initial_from, perform, typed
from inventory.pages.facts import Fact, told
from inventory.pages.reading import moment
from inventory.pages.rendering import show_list
from inventory.pages.sorting import Sorts
from inventory.rules.tag_code import grouped

_OPEN = {"": True, "closed": False, "all": None}

_SORTS: Sorts = {
    "Report": ("id",),
    "What is wrong": ("kind",),
    "Received": ("received_at",),
}


@require_safe
@for_claim(ClaimAct.READ_REPORTS)
def site_reports(request: HttpRequest) -> HttpResponse:
    """List the reports; the open ones unless asked otherwise."""
    filters = ReportFilter(request.GET)
    return show_list(
        request,
        "certs/site_reports.html",
        rows=reports(is_open=_OPEN[filters.read("state") or ""]),
        table=table_of_reports,
        area="reports",
        noun="reports",
        sorts=_SORTS,
        filters=filters,
        allowed=allowed_acts(request),
    )


@require_safe
@for_claim(ClaimAct.READ_REPORTS)
def site_report(request: HttpRequest, code: str) -> HttpResponse:
    """Show a report with its photographs, and the story of the item as it was then."""
    report = found(report_of(code))
    return show(
        request,
        "certs/site_report.html",
        area="reports",
        report=report,
        state=state_of(report),
        facts=_facts(report, with_contact=may_do(request, ClaimAct.SETTLE_REPORT)),
        stories=stories_told(report),
        first_thing=next(iter(things_of(report)), ""),
    )


@for_claim(ClaimAct.SETTLE_REPORT)
def hold(request: HttpRequest, code: str) -> HttpResponse:
    """Put what was reported on hold."""
    report = found(report_of(code))
    suggested = {
        "subject": next(iter(things_of(report)), ""),
        "reason": f"Reported from site ({report.code}): {report.get_kind_display()}",
    }
    form = HoldReportedForm(*typed(request), initial=suggested | initial_from(request, "subject"))
    placed = perform(
        request, lambda: hold_reported(report=report, **form.values, **deed(request)), form
    )
    if placed is not None:
        said = f"Hold {placed.code} is placed. Tags on everything it reaches say so from now on."
        return done(request, said, "certs:site_report", code)
    return _ask(request, "certs/hold_reported.html", report, form, submit="Place the hold")


@for_claim(ClaimAct.SETTLE_REPORT)
def close(request: HttpRequest, code: str) -> HttpResponse:
    """Close a report."""
    report = found(report_of(code))
    form = CloseReportForm(*typed(request))
    closed = perform(
        request, lambda: close_report(report=report, **form.values, **deed(request)), form
    )
    if closed is not None:
        return done(request, f"Report {code} is closed.", "certs:site_report", code)
    return _ask(request, "certs/close_report.html", report, form, submit="Close the report")


@for_claim(ClaimAct.SETTLE_REPORT)
def forget(request: HttpRequest, code: str) -> HttpResponse:
    """Forget how the reporter can be reached."""
    report = found(report_of(code))
    form = ForgetForm(*typed(request))
    gone = perform(request, lambda: forget_contact(report=report, **deed(request)), form)
    if gone is not None:
        return done(request, "The contact is forgotten.", "certs:site_report", code)
    return _ask(request, "certs/forget_contact.html", report, form, submit="Forget the contact")


@require_safe
@for_claim(ClaimAct.READ_REPORTS)
def photograph(request: HttpRequest, code: str, position: int) -> HttpResponse:  # noqa: ARG001
    """Hand out a photograph of a report."""
    return kept(found(photo_of(found(report_of(code)), position=position)).file)


def _ask(
    request: HttpRequest, template: str, report: SiteReport, form: object, *, submit: str
) -> HttpResponse:
    return show(
        request,
        template,
        area="reports",
        report=report,
        form=form,
        submit=submit,
        cancel=page_of(report.code),
    )


def _facts(report: SiteReport, *, with_contact: bool) -> list[Fact]:
    hold_code = report.hold.code if report.hold else ""
    tag = report.tag.code
    contact = report.contact or "none given, or forgotten"
    return told(
        Fact("What is wrong", report.get_kind_display().capitalize()),
        Fact("Received", moment(report.received_at)),
        Fact("Tag", grouped(tag), href=reverse("certs:tag", args=[tag])),
        Fact("Reached at", contact if with_contact else ""),
        Fact("Hold", hold_code, href=page_of(hold_code) if hold_code else ""),
        Fact("Closed", moment(report.closed_at), note=f"by {report.closed_by}"),
        Fact("What was found out", report.close_reason),
    )
