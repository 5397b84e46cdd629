"""Decides how it is asked and shown how sure a measurement would be."""

from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal

from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from certs.documents.decision_told import ToldDecision, tell_decision, tell_share
from certs.pages.decision_facts import facts_of, table_of
from certs.pages.derivations import ShownDerivation, shown_steps
from certs.pages.forms.decision_rules import WhatIfForm
from certs.pages.machine_facts import machine_told
from certs.pages.rendering import show
from certs.queries.what_if import WhatIf, what_if
from certs.rules.derived import trimmed
from inventory.models import TestingMachine
from inventory.pages.acting import initial_from, signed_in
from inventory.pages.facts import Fact, told
from inventory.pages.reading import shown_force
from inventory.pages.table import Table
from inventory.rules.refusal import Refusal


@dataclass(frozen=True, slots=True)
class ShownWhatIf:
    """What `templates/certs/what_if.html` shows."""

    told: ToldDecision
    facts: list[Fact]
    table: Table | None
    sure: list[Fact]
    production: list[Fact]
    machine: list[Fact]
    problems: tuple[str, ...]
    derivations: list[ShownDerivation]


@signed_in
def what_if_measured(request: HttpRequest) -> HttpResponse:
    """How sure a measurement would be: its budget, the decision, the risks."""
    is_asked = "measured_n" in request.GET
    names = ("machine", "decision_rule", "required_n")
    form = (
        WhatIfForm(request.GET) if is_asked else WhatIfForm(initial=initial_from(request, *names))
    )
    shown = None
    if form.is_bound and form.is_valid():
        try:
            shown = _shown(what_if(form.asked, on=timezone.localdate()), form.asked.machine)
        except Refusal as refusal:
            form.refuse(refusal)
    return show(request, "certs/what_if.html", area="tests", form=form, shown=shown)


def _shown(found: WhatIf, machine: TestingMachine) -> ShownWhatIf | None:
    uncertainty = found.budget.as_json() if found.budget else {}
    decided = tell_decision(decision=found.decision.as_json(), uncertainty=uncertainty)
    if decided is None:
        return None
    return ShownWhatIf(
        told=decided,
        facts=facts_of(decided.facts),
        table=table_of(decided.components),
        sure=[
            Fact(f"{trimmed(one.probability * 100)} % sure", shown_force(_up(one.force_n)))
            for one in found.sure_forces
        ],
        production=_production(found),
        machine=machine_told(machine, found.calibration),
        problems=found.problems,
        derivations=shown_steps(found.budget.derived()) if found.budget else [],
    )


def _production(found: WhatIf) -> list[Fact]:
    """Tell the risks over the whole production, and how well it keeps its limits."""
    facts = []
    if found.risk is not None:
        risk = found.risk
        facts += [
            Fact("Conforms", _share(risk.conforming)),
            Fact("Would be accepted", _share(risk.accepted)),
            Fact("Accepted wrongly", _share(risk.consumers), note="the consumer’s risk"),
            Fact("Rejected wrongly", _share(risk.producers), note="the producer’s risk"),
        ]
    if found.capability is not None:
        cp, cpk = found.capability.cp, found.capability.cpk
        facts += told(
            Fact("Cp", "" if cp is None else trimmed(round(cp, 2))),
            Fact(
                "Cpk", trimmed(round(cpk, 2)), note="1 keeps the nearer limit by three deviations"
            ),
        )
    return facts


def _share(value: float) -> str:
    return tell_share(Decimal(repr(max(value, 0.0))))


def _up(force_n: Decimal) -> int:
    return int(force_n.to_integral_value(rounding=ROUND_CEILING))
