"""Decides on the force of a proof load under the rule chosen before it.

What counts for the load to be reached is the lowest force of the hold; for one not to be passed,
the peak. Without a named rule a force that the error of the machine leaves open is not decided
again: it has failed by what the machine must show, and no second word may say otherwise.
"""

from datetime import datetime
from typing import Final

from certs.models import DecisionRule
from certs.rules.conformity import DecisionOutcome
from certs.rules.proof_requirement import Requirement
from certs.services.decide import Judged, check_rule, decide_force
from certs.services.measured_proof import MeasuredProof
from inventory.models import Assembly, Calibration

_WORST_LAST: Final = tuple(DecisionOutcome)


def decide_proof(
    measured: MeasuredProof,
    *,
    requirement: Requirement,
    calibration: Calibration | None,
    decision_rule: DecisionRule | None,
    tested_at: datetime,
    assembly: Assembly,
) -> Judged | None:
    """Decide on the lowest force held, and on the peak where it is limited: the worse one stands.

    None where nothing was held, where no force could keep both limits, or where only a rule could
    decide and none is named. Raises CannotDecide for a rule chosen after the test or agreed with
    another customer.
    """
    line = assembly.order_line
    customer = None if line is None else line.order.customer
    check_rule(decision_rule, tested_at=tested_at, customer=customer)
    plateau = measured.plateau
    if plateau is None or plateau.lowest_n <= 0:
        return None
    if requirement.ceiling_n is not None and requirement.ceiling_n < requirement.required_n:
        return None
    if decision_rule is None and plateau.lowest_n < requirement.least_indicated_n:
        return None
    forces_n = [plateau.lowest_n]
    if requirement.ceiling_n is not None:
        forces_n.append(measured.found.peak_n)
    judged = (
        decide_force(
            measured_n=force_n,
            required_n=requirement.required_n,
            upper_n=requirement.ceiling_n,
            calibration=calibration,
            decision_rule=decision_rule,
            tested_at=tested_at,
            customer=customer,
        )
        for force_n in forces_n
    )
    return max(judged, key=lambda one: _WORST_LAST.index(one.decision.outcome))
