"""What a measurement would tell before it is made: its uncertainty, the decision, the risks.

Nothing is recorded. The figures come from the rules, the machine from the record.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Final

from certs.models import DecisionRule
from certs.queries.decision_rules import rule_of
from certs.queries.force_uncertainty import budget_of
from certs.queries.machine_support import calibration_on, problems_on
from certs.rules.conformance_probability import NoProbability, surely_above
from certs.rules.conformity import Decision, decide
from certs.rules.global_risk import (
    Capability,
    GlobalRisk,
    Limits,
    capability,
    global_risk,
)
from certs.rules.uncertainty_budget import Budget
from inventory.models import Calibration, TestingMachine
from inventory.rules.refusal import Refusal

# The probabilities of JCGM 106:2012, Table 1, that are asked for most.
PROBABILITIES: Final = (Decimal("0.95"), Decimal("0.99"), Decimal("0.999"))
WORST_CLASS: Final = "3"
NEEDS_WHOLE: Final = (
    "Risks need the whole uncertainty, and the calibration does not state all of it."
)
NONE_IS_SURE: Final = (
    "With so great an uncertainty beside the force, no measured force would be sure enough."
)


class CannotAsk(Refusal):
    """A question that no answer can be computed for."""


@dataclass(frozen=True, slots=True)
class Production:
    """The true breaking forces of a production, taken as normal: mean and deviation in N."""

    mean_n: int
    sd_n: int


@dataclass(frozen=True, slots=True)
class Asked:
    """A measurement that has not been made; forces in N."""

    machine: TestingMachine
    measured_n: int
    required_n: int
    upper_n: int | None = None
    decision_rule: DecisionRule | None = None
    production: Production | None = None


@dataclass(frozen=True, slots=True)
class SureForce:
    """The least force to be measured so that the true one reaches the limit so probably."""

    probability: Decimal
    force_n: Decimal


@dataclass(frozen=True, slots=True)
class WhatIf:
    """All that would be known; what cannot be computed is None, `problems` say why."""

    calibration: Calibration | None
    budget: Budget | None
    decision: Decision
    sure_forces: tuple[SureForce, ...]
    risk: GlobalRisk | None
    capability: Capability | None
    problems: tuple[str, ...]


def what_if(asked: Asked, *, on: date) -> WhatIf:
    """Tell what a force measured on this machine on a day would say of its limits.

    Raises CannotAsk for a force or a deviation that is not above nought, NoProbability for limits
    out of order, NoRisk where limits leave no room between them.
    """
    _check(asked)
    calibration = calibration_on(asked.machine, day=on)
    budget = budget_of(asked.measured_n, calibration=calibration)
    known = budget if budget is not None and budget.is_complete else None
    decision = decide(
        measured_n=asked.measured_n,
        u_n=known.combined if known else None,
        expanded_n=known.expanded if known else None,
        rule=rule_of(asked.decision_rule),
        lower_n=asked.required_n,
        upper_n=asked.upper_n,
    )
    sure_forces = _sure_forces(known, asked)
    problems = problems_on(
        calibration, day=on, forces_n=[asked.measured_n], needed_class=WORST_CLASS
    )
    return WhatIf(
        calibration=calibration,
        budget=budget,
        decision=replace(decision, is_provisional=budget is not None and budget.is_provisional),
        sure_forces=sure_forces,
        risk=_risk(known, decision, asked.production),
        capability=_capability(decision, asked.production),
        problems=(*problems, *_left_open(known, sure_forces)),
    )


def _check(asked: Asked) -> None:
    for field, force_n in (("measured_n", asked.measured_n), ("required_n", asked.required_n)):
        if force_n <= 0:
            raise CannotAsk("A force must be above nought.", field=field)
    if asked.production is not None and asked.production.sd_n <= 0:
        raise CannotAsk("The standard deviation must be above nought.", field="sd_n")


def _sure_forces(known: Budget | None, asked: Asked) -> tuple[SureForce, ...]:
    if known is None:
        return ()
    relative_u = known.combined / asked.measured_n
    try:
        found = [
            surely_above(asked.required_n, relative_u=relative_u, probability=share)
            for share in PROBABILITIES
        ]
    except NoProbability:
        return ()
    return tuple(
        SureForce(share, Decimal(repr(force_n)))
        for share, force_n in zip(PROBABILITIES, found, strict=True)
    )


def _left_open(known: Budget | None, sure_forces: Sequence[SureForce]) -> list[str]:
    """Say what was not computed, and why."""
    if known is None:
        return [NEEDS_WHOLE]
    return [] if sure_forces else [NONE_IS_SURE]


def _risk(
    known: Budget | None, decision: Decision, production: Production | None
) -> GlobalRisk | None:
    if known is None or production is None:
        return None
    limits = Limits.of(
        lower=decision.lower_n, upper=decision.upper_n, guard_band=decision.guard_band_n or 0
    )
    return global_risk(mean=production.mean_n, sd=production.sd_n, u=known.combined, limits=limits)


def _capability(decision: Decision, production: Production | None) -> Capability | None:
    if production is None:
        return None
    return capability(
        mean=Decimal(production.mean_n),
        sd=Decimal(production.sd_n),
        lower=None if decision.lower_n is None else Decimal(decision.lower_n),
        upper=None if decision.upper_n is None else Decimal(decision.upper_n),
    )
