"""Decides how a test of the wires of a rope is listed, recorded and told."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.models import WireTest
from certs.pages.acting import for_claim
from certs.pages.addresses import page_of
from certs.pages.derivations import shown_steps
from certs.pages.forms.wires import WireTestForm
from certs.pages.machine_facts import machine_told
from certs.pages.rendering import allowed_acts, show
from certs.pages.wire_figure import figure_of_wires
from certs.pages.wire_tables import findings_told, outcome_shape, table_of_wire_tests
from certs.queries.evidence import reversal_of
from certs.queries.wire_tests import route_of, wire_test_of, wire_tests
from certs.rules.derived import Derived
from certs.rules.roles import ClaimAct
from certs.rules.thaw import thawed
from certs.services.record_tests import record_wire_test
from inventory.pages.acting import deed, done, found, initial_from, perform, signed_in, typed
from inventory.pages.facts import Fact, told
from inventory.pages.reading import moment, shown_force
from inventory.pages.rendering import show_list
from inventory.pages.sorting import Sorts

_SORTS: Sorts = {
    "Test": ("id",),
    "Tested": ("tested_at",),
    "Reel": ("reel_id",),
    "Required": ("required_n",),
    "Outcome": ("outcome",),
}


@signed_in
def wire_test_list(request: HttpRequest) -> HttpResponse:
    """The tests of wires, the latest first."""
    return show_list(
        request,
        "certs/wire_tests.html",
        rows=wire_tests(),
        table=table_of_wire_tests,
        area="tests",
        noun="tests",
        sorts=_SORTS,
        allowed=allowed_acts(request),
    )


@for_claim(ClaimAct.RECORD_WIRE_TEST)
def record_wires(request: HttpRequest) -> HttpResponse:
    """Record a test of wires."""
    start = {
        "tested_at": timezone.localtime(),
        "method": WireTest.Method.AFTER_UNLAYING.value,
        **initial_from(request, "sample", "reel", "machine"),
    }
    form = WireTestForm(*typed(request), initial=start)
    test = perform(request, lambda: record_wire_test(**form.values, **deed(request)), form)
    if test is not None:
        said = f"{test.code} is recorded: {test.get_outcome_display()}."
        return done(request, said, "certs:wire_test", test.code)
    return show(request, "certs/record_wires.html", area="tests", form=form)


@signed_in
def wire_test(request: HttpRequest, code: str) -> HttpResponse:
    """One test: the verdicts, every wire against its band, the sum, and what is asked next."""
    test = found(wire_test_of(code))
    return show(
        request,
        "certs/wire_test.html",
        area="tests",
        test=test,
        shape=outcome_shape(test.outcome),
        reversal=reversal_of(test),
        facts=_facts(test),
        findings=findings_told(test.findings),
        machine=machine_told(test.machine, test.calibration) if test.machine else [],
        figure=figure_of_wires(test),
        steps=[step for derived in _derived(test) for step in shown_steps(derived)],
        route=route_of(test.reel),
    )


def _derived(test: WireTest) -> list[Derived]:
    """Give every number as it was derived when the test was recorded."""
    return [thawed(derived) for found in test.findings for derived in found["derived"]]


def _facts(test: WireTest) -> list[Fact]:
    calculated = "none: no spinning-loss factor was named"
    if test.calculated_n is not None:
        calculated = shown_force(test.calculated_n)
    sample = test.sample
    return told(
        Fact("Calculated breaking force", calculated, note="no actual break of the rope"),
        Fact("Required", shown_force(test.required_n)),
        Fact("Sum of wire forces", shown_force(test.sum_n or 0)),
        Fact("Spinning-loss factor", test.spinning_factor, note=test.spinning_source),
        Fact(
            "Marked grade",
            test.reel.grade,
            note=test.get_grade_outcome_display(),
        ),
        Fact("Grade the wires support", test.supported_grade or "none shown"),
        Fact("Method", test.get_method_display(), note="ISO 10425:2003 5.1.4"),
        Fact("Sample", sample.code, href=page_of(sample.code)) if sample else Fact("Sample", ""),
        Fact("Reel", test.reel.code, href=page_of(test.reel.code), note=test.reel.designation),
        Fact("Maker’s paper", test.paper),
        Fact("Tested", moment(test.tested_at)),
        Fact("Recorded by", str(test.tested_by)),
        Fact("Note", test.note),
    )
