"""Decides how a breaking-force test is shown before it is recorded; nothing is kept."""

from collections.abc import Iterator, Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.documents.curve_marks import CurveMarks
from certs.models import BreakingTest
from certs.pages.acting import for_claim
from certs.pages.force_figure import ForceFigure
from certs.pages.forms.tests import UNKNOWN, BreakingTestForm
from certs.pages.loading_shown import loading_shown
from certs.pages.outcome_tables import outcome_shape
from certs.pages.preview_shown import (
    Preview,
    curve_shown,
    has_all,
    log_facts,
    log_given,
    refused,
    still_missing,
    units_of,
)
from certs.pages.rendering import show
from certs.rules.load_log import LoadLog
from certs.rules.load_trace import analyse
from certs.rules.roles import ClaimAct
from certs.services.judged_break import BreakAsked, JudgedBreak, judge_break
from certs.services.record_breaking import check_sample, free_length_asked
from certs.services.test_evidence import check_times, read_test_log
from inventory.pages.acting import typed
from inventory.pages.facts import Fact
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_kn

_NEEDED = ("sample", "machine", "tested_at")
_COMMENT = "id_note"


@for_claim(ClaimAct.RECORD_BREAKING_TEST)
def preview_breaking(request: HttpRequest) -> HttpResponse:
    """The curve of the log that was chosen, and what would be recorded of it."""
    form = BreakingTestForm(*typed(request))
    preview = _preview(form) if form.is_bound else None
    return show(request, "certs/_test_preview.html", area="tests", preview=preview)


def _preview(form: BreakingTestForm) -> Preview | None:
    form.is_valid()
    log = log_given(form)
    if log is None:
        return None
    try:
        readings = read_test_log(log, **units_of(form))
    except Refusal as refusal:
        return refused(refusal, comment=_COMMENT)
    if readings is None or not has_all(form, _NEEDED):
        return _measured(form, readings)
    try:
        return _judged(form, readings)
    except Refusal as refusal:
        # The log can be read; what it is held against cannot be told.
        return _measured(form, readings, refusal)


def _measured(form: BreakingTestForm, readings: LoadLog | None, *why: Refusal) -> Preview | None:
    if readings is None:
        return None
    peak_n = analyse(readings.samples).peak_n
    return Preview(
        said=f"Log read: greatest force {format_kn(peak_n)}. The verdict waits for the rest.",
        comment=_COMMENT,
        figure=curve_shown(readings, CurveMarks(), peak_n=peak_n),
        facts=tuple(log_facts(readings, peak_n=peak_n)),
        missing=still_missing(form, *why),
    )


def _judged(form: BreakingTestForm, readings: LoadLog) -> Preview:
    given, refusals = form.cleaned_data, list[Refusal]()
    sample = given["sample"]
    try:
        check_sample(sample)
        check_times(
            tested_at=given["tested_at"],
            at=timezone.now(),
            made_at=sample.cut_at,
            made="the sample was cut",
        )
    except Refusal as refusal:
        refusals.append(refusal)
    seen = judge_break(readings, _asked(given), reel=sample.reel)
    outcome = BreakingTest(outcome=seen.verdict.outcome.value).get_outcome_display()
    peak = format_kn(seen.measured.peak_n)
    return Preview(
        said=f"Log read: greatest force {peak}. It would be: {outcome}.",
        comment=_COMMENT,
        figure=_figure(readings, seen),
        word=outcome,
        shape=outcome_shape(seen.verdict.outcome.value),
        facts=tuple(_facts(readings, seen)),
        reasons=tuple(seen.reasons),
        machine_problems=tuple(seen.machine_problems),
        missing=still_missing(form, *refusals),
    )


def _asked(given: dict[str, Any]) -> BreakAsked:
    return BreakAsked(
        machine=given["machine"],
        tested_at=given["tested_at"],
        peak_n=given.get("peak_n"),
        break_distance_mm=given.get("break_distance_mm"),
        # Until a place is named nobody has written it down.
        is_break_place_known=given.get("break_place", UNKNOWN) != UNKNOWN,
        free_length_mm=given.get("free_length_mm"),
        asked=free_length_asked(
            given.get("free_length_asked_mm"), given.get("free_length_source", "")
        ),
        temperature_c=given.get("temperature_c"),
        decision_rule=given.get("decision_rule"),
    )


def _figure(readings: LoadLog, seen: JudgedBreak) -> ForceFigure:
    loading = seen.measured.loading
    told: Mapping[str, Any] = loading.as_json() if loading else {}
    marked, peak = told.get("marked_ms"), told.get("peak_ms")
    marks = CurveMarks(
        target_n=seen.required_n,
        mark_n=told.get("mark_n"),
        slow=None if marked is None or peak is None else (marked / 1000, peak / 1000),
    )
    return curve_shown(readings, marks, peak_n=seen.measured.peak_n)


def _facts(readings: LoadLog, seen: JudgedBreak) -> Iterator[Fact]:
    yield Fact("Required of this reel", format_kn(seen.required_n))
    yield from log_facts(readings, peak_n=seen.measured.peak_n)
    loading = seen.measured.loading
    shown = loading_shown(loading.as_json() if loading else None, said=())
    if shown:
        yield Fact("Loading", shown.words)
        yield from shown.facts
