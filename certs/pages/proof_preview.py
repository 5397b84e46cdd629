"""Decides how a proof load is shown before it is recorded; nothing is kept."""

from collections.abc import Iterator
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.documents.curve_marks import CurveMarks
from certs.models import ProofTest
from certs.pages.acting import for_claim
from certs.pages.force_figure import ForceFigure
from certs.pages.forms.tests import ProofTestForm
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
from certs.rules.permanent_extension import PermanentExtension
from certs.rules.proof_test import Inspections
from certs.rules.roles import ClaimAct
from certs.services.judged_proof import JudgedProof, ProofAsked, check_required, judge_proof
from certs.services.measured_proof import Gauge, extension_of, read_proof_log
from certs.services.test_evidence import check_times
from inventory.documents.quantities import milliseconds
from inventory.pages.acting import typed
from inventory.pages.facts import Fact
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_kn

_NEEDED = ("assembly", "machine", "tested_at", "required_n", "required_hold_s")
_COMMENT = "id_after_note"


@for_claim(ClaimAct.RECORD_PROOF_TEST)
def preview_proof(request: HttpRequest) -> HttpResponse:
    """The curve of the log that was chosen, and what would be recorded of it."""
    form = ProofTestForm(*typed(request))
    preview = _preview(form) if form.is_bound else None
    return show(request, "certs/_test_preview.html", area="tests", preview=preview)


def _preview(form: ProofTestForm) -> Preview | None:
    form.is_valid()
    log = log_given(form)
    if log is None:
        return None
    try:
        readings = read_proof_log(log, **units_of(form))
    except Refusal as refusal:
        return refused(refusal, comment=_COMMENT)
    if not has_all(form, _NEEDED):
        return _measured(form, readings)
    try:
        return _judged(form, readings)
    except Refusal as refusal:
        # The log can be read; what it is held against cannot be told.
        return _measured(form, readings, refusal)


def _measured(form: ProofTestForm, readings: LoadLog, *why: Refusal) -> Preview:
    """Show what the log alone says, while nobody said yet what it is held against."""
    found = analyse(readings.samples)
    plateau = found.plateau
    hold = None
    if plateau is not None:
        hold = (plateau.start_s, plateau.end_s, float(max(plateau.lowest_n, 0)))
    marks = CurveMarks(plateau=hold)
    return Preview(
        said=f"Log read: peak {format_kn(found.peak_n)}. The verdict waits for the rest.",
        comment=_COMMENT,
        figure=curve_shown(readings, marks, peak_n=found.peak_n),
        facts=tuple(log_facts(readings, peak_n=found.peak_n)),
        missing=still_missing(form, *why),
    )


def _judged(form: ProofTestForm, readings: LoadLog) -> Preview:
    typed_in, refusals = form.cleaned_data, list[Refusal]()
    extension = _extension(typed_in, refusals)
    try:
        check_required(
            typed_in["required_n"],
            hold_s=typed_in["required_hold_s"],
            ceiling_n=typed_in.get("ceiling_n"),
        )
        check_times(
            tested_at=typed_in["tested_at"],
            at=timezone.now(),
            made_at=typed_in["assembly"].built_at,
            made="it was built",
        )
    except Refusal as refusal:
        refusals.append(refusal)
    seen = judge_proof(readings, _asked(typed_in, extension))
    outcome = ProofTest(outcome=seen.verdict.outcome.value).get_outcome_display()
    return Preview(
        said=f"Log read: peak {format_kn(seen.measured.found.peak_n)}. It would be: {outcome}.",
        comment=_COMMENT,
        figure=_figure(readings, seen),
        word=outcome,
        shape=outcome_shape(seen.verdict.outcome.value),
        facts=tuple(_facts(readings, seen)),
        reasons=tuple(seen.reasons),
        machine_problems=tuple(seen.machine_problems),
        missing=still_missing(form, *refusals),
    )


def _asked(typed_in: dict[str, Any], extension: PermanentExtension | None) -> ProofAsked:
    return ProofAsked(
        assembly=typed_in["assembly"],
        machine=typed_in["machine"],
        tested_at=typed_in["tested_at"],
        required_n=typed_in["required_n"],
        required_hold_s=typed_in["required_hold_s"],
        ceiling_n=typed_in.get("ceiling_n"),
        decision_rule=typed_in.get("decision_rule"),
        inspections=Inspections(
            before_ok=_is_good(typed_in.get("before")), after_ok=_is_good(typed_in.get("after"))
        ),
        extension=extension,
    )


def _is_good(said: str | None) -> bool | None:
    return None if not said else said == "good"


def _extension(typed_in: dict[str, Any], refusals: list[Refusal]) -> PermanentExtension | None:
    try:
        return extension_of(
            Gauge(
                typed_in.get("gauge_before_um"),
                typed_in.get("gauge_after_um"),
                typed_in.get("extension_limit_pct", ""),
            )
        )
    except Refusal as refusal:
        refusals.append(refusal)
        return None


def _figure(readings: LoadLog, seen: JudgedProof) -> ForceFigure:
    hold = seen.measured.hold
    shown = None
    if hold.from_ms is not None and hold.to_ms is not None and hold.lowest_n is not None:
        shown = (hold.from_ms / 1000, hold.to_ms / 1000, float(hold.lowest_n))
    marks = CurveMarks(
        target_n=seen.requirement.required_n,
        ceiling_n=seen.requirement.ceiling_n,
        plateau=shown,
    )
    return curve_shown(readings, marks, peak_n=seen.measured.found.peak_n)


def _facts(readings: LoadLog, seen: JudgedProof) -> Iterator[Fact]:
    requirement, hold = seen.requirement, seen.measured.hold
    yield Fact(
        "The machine must show",
        format_kn(requirement.least_indicated_n),
        note=f"{format_kn(requirement.required_n)} and the {requirement.machine_q_pct} % it may"
        f" err, for {requirement.required_hold_s} s",
    )
    if requirement.most_indicated_n is not None:
        yield Fact("And at most", format_kn(requirement.most_indicated_n))
    if hold.from_ms is None or hold.to_ms is None or hold.lowest_n is None:
        yield Fact("Plateau", "none found in the log")
    else:
        yield Fact(
            "Held",
            milliseconds(hold.to_ms - hold.from_ms),
            note=f"from {milliseconds(hold.from_ms)} to {milliseconds(hold.to_ms)}",
        )
        yield Fact("Lowest while held", format_kn(hold.lowest_n))
    yield from log_facts(readings, peak_n=seen.measured.found.peak_n)
