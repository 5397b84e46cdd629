"""Decides how a breaking-force test is recorded and told."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.models import BreakingTest
from certs.pages.acting import for_claim
from certs.pages.addresses import page_of
from certs.pages.affected_papers import table_of_affected
from certs.pages.breaking_shown import record_shown
from certs.pages.decision_facts import decision_shown
from certs.pages.force_figure import figure_of
from certs.pages.forms.tests import BreakingTestForm
from certs.pages.loading_shown import loading_shown
from certs.pages.machine_facts import machine_told
from certs.pages.outcome_tables import outcome_shape
from certs.pages.rendering import allowed_acts, show
from certs.queries.claim_registers import certificates_of_test
from certs.queries.claims import breaking_test_of
from certs.queries.evidence import reversal_of
from certs.queries.papers_affected import papers_affected_by
from certs.rules.roles import ClaimAct
from certs.services.record_tests import record_breaking_test
from inventory.pages.acting import deed, done, found, initial_from, perform, signed_in, typed
from inventory.pages.facts import Fact, told
from inventory.pages.reading import moment, shown_force, shown_metres
from inventory.rules.as_given import beside


@for_claim(ClaimAct.RECORD_BREAKING_TEST)
def record_breaking(request: HttpRequest) -> HttpResponse:
    """Record a breaking-force test."""
    named = initial_from(request, "sample", "machine", "retest_of")
    start = {"tested_at": timezone.localtime(), **named}
    form = BreakingTestForm(*typed(request), initial=start)
    test = perform(request, lambda: record_breaking_test(**form.values, **deed(request)), form)
    if test is not None:
        said = f"{test.code} is recorded: {test.get_outcome_display()}."
        return done(request, said, "certs:breaking_test", test.code)
    return show(request, "certs/record_breaking.html", area="tests", form=form)


@signed_in
def breaking_test(request: HttpRequest, code: str) -> HttpResponse:
    """One test: what was measured, the verdict, the machine, the curve."""
    test = found(breaking_test_of(code))
    figure, record = figure_of(test), record_shown(test.sample.reel)
    return show(
        request,
        "certs/breaking_test.html",
        area="tests",
        test=test,
        shape=outcome_shape(test.outcome),
        reversal=reversal_of(test),
        facts=_facts(test),
        machine=machine_told(test.machine, test.calibration),
        decision=decision_shown(test),
        figure=figure,
        loading=loading_shown(figure.loading if figure else None, said=test.reasons),
        record=record,
        is_retest_due=record is not None and test.code in record.open_tests,
        affected=table_of_affected(papers_affected_by(test), allowed=allowed_acts(request)),
        certificates=certificates_of_test(test),
    )


def _facts(test: BreakingTest) -> list[Fact]:
    sample, reel = test.sample, test.sample.reel
    repeated, retest = test.retest_of, getattr(test, "retest", None)
    return told(
        Fact("Greatest force", beside(shown_force(test.peak_n), test.as_given, "peak_n")),
        Fact("Required", shown_force(test.required_n)),
        Fact("Sample", sample.code, href=page_of(sample.code)),
        Fact(
            "Cut from",
            reel.code,
            href=page_of(reel.code),
            note=f"{shown_metres(sample.from_mm)} to {shown_metres(sample.to_mm)}",
        ),
        Fact("Rope", reel.designation),
        Fact("Broke", _where(test)),
        Fact("Retest of", repeated.code, href=page_of(repeated.code)) if repeated else Fact("", ""),
        Fact("Repeated by", retest.code, href=page_of(retest.code)) if retest else Fact("", ""),
        Fact("Free length", f"{test.free_length_mm} mm" if test.free_length_mm else "not recorded"),
        Fact(
            "Free length asked for",
            beside(_mm(test.free_length_asked_mm), test.as_given, "free_length_asked_mm"),
            note=test.free_length_source,
        ),
        Fact(
            "Temperature",
            "not recorded" if test.temperature_c is None else f"{test.temperature_c} °C",
        ),
        Fact("Tested", moment(test.tested_at)),
        Fact("Tested by", str(test.tested_by)),
        Fact("Note", test.note),
    )


def _mm(length_mm: int | None) -> str:
    return "" if length_mm is None else f"{length_mm} mm"


def _where(test: BreakingTest) -> str:
    if not test.is_break_place_known:
        return "nobody wrote down where"
    if test.break_distance_mm is None:
        return "in the clear length, away from the grips"
    return f"{test.break_distance_mm} mm from the nearest grip"
