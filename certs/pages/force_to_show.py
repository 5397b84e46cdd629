"""Decides how it is asked and told what a testing machine must show for a proof load."""

from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from certs.pages.derivations import ShownDerivation, shown_steps
from certs.pages.forms.force_to_show import ForceToShowForm
from certs.pages.machine_facts import machine_told
from certs.pages.rendering import show
from certs.queries.force_asked import ForceAsked, force_asked
from inventory.models import TestingMachine
from inventory.pages.acting import initial_from, signed_in
from inventory.pages.facts import Fact
from inventory.pages.reading import shown_force
from inventory.rules.refusal import Refusal

NO_CLASS = (
    "No class of testing machine is held here, so nothing can be said: load the specification"
    " tables, or enter the class from your copy of the standard."
)


@dataclass(frozen=True, slots=True)
class ShownBounds:
    """What `templates/certs/_force_to_show.html` shows; `shape` is that of a state."""

    told: str
    shape: str
    facts: list[Fact]
    notes: tuple[str, ...]
    problems: tuple[str, ...]
    derivations: list[ShownDerivation]


@signed_in
def force_to_show(request: HttpRequest) -> HttpResponse:
    """What a machine must show, so that the true force keeps its limits."""
    names = ("machine", "assembly", "required_n", "ceiling_n")
    is_asked = "required_n" in request.GET and "machine" in request.GET
    form = (
        ForceToShowForm(request.GET)
        if is_asked
        else ForceToShowForm(initial=initial_from(request, *names))
    )
    shown, machine, record = None, None, ""
    if form.is_bound and form.is_valid():
        values = form.cleaned_data
        try:
            asked = force_asked(day=timezone.localdate(), **values)
        except Refusal as refusal:
            form.refuse(refusal)
        else:
            shown = shown_bounds(asked)
            machine = machine_told(values["machine"], asked.calibration)
            record = _record(values["machine"], str(request.GET.get("assembly", "")))
    return show(
        request,
        "certs/force_to_show.html",
        area="tests",
        form=form,
        shown=shown,
        machine=machine,
        record=record,
    )


def shown_bounds(asked: ForceAsked) -> ShownBounds:
    """Show both bounds with their derivations."""
    shown = asked.shown
    if shown is None:
        return ShownBounds(NO_CLASS, "wait", [], asked.notes, asked.problems, [])
    bounds = [bound for bound in (shown.least, shown.most) if bound is not None]
    return ShownBounds(
        told=shown.told,
        shape="good" if shown.is_possible else "stop",
        facts=list(_facts(asked)),
        notes=asked.notes,
        problems=asked.problems,
        derivations=[step for bound in bounds for step in shown_steps(bound)],
    )


def _facts(asked: ForceAsked) -> Iterator[Fact]:
    if asked.shown is None:
        return
    least, most = asked.shown.least, asked.shown.most
    yield Fact("Show at least", shown_force(int(least.stated)), note=" ".join(least.remarks))
    if most is not None:
        yield Fact("Show at most", shown_force(int(most.stated)), note=" ".join(most.remarks))


def _record(machine: TestingMachine, assembly: str) -> str:
    """Lead on to recording the test on this machine."""
    asked = {"machine": str(machine.pk), **({"assembly": assembly} if assembly else {})}
    return f"{reverse('certs:record_proof')}?{urlencode(asked)}"
