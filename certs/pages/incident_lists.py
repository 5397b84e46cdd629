"""Decides how the incidents that wait are told on the first page."""

from django.urls import reverse

from certs.models import RecallNotice, SiteReport
from certs.pages.addresses import page_of
from certs.pages.recall_notices_table import state_of as state_of_letter
from certs.pages.site_reports_table import shortened, state_of
from certs.pages.waiting_list import WaitingList, WaitingRow
from certs.queries.incidents import Incidents
from certs.queries.recall_of_hold import codes_in
from certs.queries.site_reports import things_of
from inventory.pages.reading import day


def incident_lists(found: Incidents, *, reads_reports: bool) -> list[WaitingList]:
    """Tell reports from site, to those who read them, and letters that nobody has answered."""
    letters = WaitingList(
        "letters",
        "Recall letters without an answer",
        tuple(_letter(letter) for letter in found.letters.rows),
        found.letters.more,
        "recall letters without an answer",
        reverse("certs:recall_notices"),
    )
    if not reads_reports:
        return [letters]
    reported = WaitingList(
        "reports",
        "Reported from site",
        tuple(_report(report) for report in found.reports.rows),
        found.reports.more,
        "reports from site",
        reverse("certs:site_reports"),
    )
    return [reported, letters]


def _report(report: SiteReport) -> WaitingRow:
    state = state_of(report)
    things = ", ".join(things_of(report)) or "nothing that can be traced"
    return WaitingRow(
        f"{report.code}: {things}",
        state.text,
        state.shape,
        f"{day(report.received_at)}, {report.get_kind_display()}: {shortened(report.words)}",
        page_of(report.code),
    )


def _letter(letter: RecallNotice) -> WaitingRow:
    state = state_of_letter(letter)
    return WaitingRow(
        f"{letter.code}: {letter.customer.name}",
        state.text,
        state.shape,
        f"Hold {letter.hold.code}: {', '.join(codes_in(letter.facts))}",
        page_of(letter.code),
    )
