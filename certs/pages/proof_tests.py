"""Decides how a proof-load test is recorded and told."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.models import ProofTest
from certs.pages.acting import for_claim
from certs.pages.addresses import page_of
from certs.pages.decision_facts import decision_shown
from certs.pages.derivations import shown_steps
from certs.pages.force_figure import figure_of
from certs.pages.force_to_show import shown_bounds
from certs.pages.forms.tests import ProofTestForm
from certs.pages.machine_facts import machine_told
from certs.pages.outcome_tables import outcome_shape
from certs.pages.proof_advice import advice_for
from certs.pages.rendering import show
from certs.queries.claims import proof_test_of
from certs.queries.evidence import reversal_of
from certs.queries.force_asked import force_asked_of
from certs.queries.proof_extension import extension_on_record
from certs.rules.derived import trimmed
from certs.rules.permanent_extension import PermanentExtension
from certs.rules.roles import ClaimAct
from certs.services.record_tests import record_proof_test
from inventory.documents.quantities import milliseconds
from inventory.pages.acting import deed, done, found, initial_from, perform, signed_in, typed
from inventory.pages.facts import Fact, told
from inventory.pages.reading import moment, shown_force
from inventory.pages.table import Line, Table, build_table
from inventory.queries.things import assembly_of_code
from inventory.rules.as_given import beside


@for_claim(ClaimAct.RECORD_PROOF_TEST)
def record_proof(request: HttpRequest) -> HttpResponse:
    """Record a proof-load test."""
    start = {"tested_at": timezone.localtime(), **initial_from(request, "assembly", "machine")}
    form = ProofTestForm(*typed(request), initial=start)
    test = perform(request, lambda: record_proof_test(**form.values, **deed(request)), form)
    if test is not None:
        said = f"{test.code} is recorded: {test.get_outcome_display()}."
        return done(request, said, "certs:proof_test", test.code)
    assembly = assembly_of_code(request.GET.get("assembly", ""))
    return show(
        request,
        "certs/record_proof.html",
        area="tests",
        form=form,
        assembly=assembly,
        advice=advice_for(assembly) if assembly else None,
    )


@signed_in
def proof_test(request: HttpRequest, code: str) -> HttpResponse:
    """One test: the verdict with every finding, the curve, the machine, the bad lines."""
    test = found(proof_test_of(code))
    extension = extension_on_record(test)
    return show(
        request,
        "certs/proof_test.html",
        area="tests",
        test=test,
        shape=outcome_shape(test.outcome),
        reversal=reversal_of(test),
        facts=_facts(test, extension),
        machine=machine_told(test.machine, test.calibration),
        decision=decision_shown(test),
        bounds=shown_bounds(force_asked_of(test)),
        extension=shown_steps(extension.derived) if extension else [],
        figure=figure_of(test),
        lines=_lines(test),
    )


def _facts(test: ProofTest, extension: PermanentExtension | None) -> list[Fact]:
    return told(
        Fact("Assembly", test.assembly.code, href=page_of(test.assembly.code)),
        Fact(
            "Required",
            beside(shown_force(test.required_n), test.as_given, "required_n"),
            note=f"held for {test.required_hold_s} s; {test.rule}",
        ),
        Fact("Not to be exceeded", _ceiling(test)),
        Fact("Peak", shown_force(test.peak_n)),
        *_plateau(test),
        Fact("Before the load", _inspection(is_good=test.before_is_good), note=test.before_note),
        Fact("After the load", _inspection(is_good=test.after_is_good), note=test.after_note),
        *_extension(extension),
        Fact("Tested", moment(test.tested_at)),
        Fact("Tested by", str(test.tested_by)),
    )


def _ceiling(test: ProofTest) -> str:
    if test.ceiling_n is None:
        return ""
    return beside(shown_force(test.ceiling_n), test.as_given, "ceiling_n")


def _plateau(test: ProofTest) -> list[Fact]:
    start, end = test.plateau_from_ms, test.plateau_to_ms
    if start is None or end is None or test.plateau_lowest_n is None:
        return [Fact("Plateau", "none found in the log")]
    return [
        Fact(
            "Held",
            milliseconds(end - start),
            note=f"from {milliseconds(start)} to {milliseconds(end)}",
        ),
        Fact("Lowest while held", shown_force(test.plateau_lowest_n)),
    ]


def _extension(extension: PermanentExtension | None) -> list[Fact]:
    if extension is None:
        return [Fact("Permanent extension", "not measured")]
    limit = extension.limit_pct
    return [
        Fact(
            "Permanent extension",
            extension.derived.text,
            note="no limit was named" if limit is None else f"limit named: {trimmed(limit)} %",
        )
    ]


def _inspection(*, is_good: bool) -> str:
    return "no fault found" if is_good else "fault found"


def _lines(test: ProofTest) -> Table:
    return build_table(
        columns=("Line", "What stands there", "Why it was not used"),
        lines=(
            Line((str(one["line"]), str(one["text"]), str(one["reason"])))
            for one in test.line_problems
        ),
    )
