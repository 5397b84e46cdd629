"""What a measured force means for a limit, under a decision rule chosen before (ILAC-G8:09/2019).

It decides guard band, acceptance limits and outcome. Whether a rule was chosen in time, and what
an outcome means for a certificate, is decided by the services.
"""

from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from enum import StrEnum
from typing import Final

from certs.rules.conformance_probability import (
    check_limits,
    conformance_probability,
    specific_consumers_risk,
)
from certs.rules.decision_rule import Rule
from certs.rules.derived import Source
from certs.rules.uncertainty_component import kept, to_figures
from inventory.rules.canonical import JsonValue
from inventory.rules.units import format_kn

ILAC: Final = Source("ILAC-G8:09/2019, 4.2; JCGM 106:2012, 7 and 8", confidence="read")
_SHARE_FIGURES = 7


class DecisionOutcome(StrEnum):
    """What is decided, in the order from the best down."""

    ACCEPT = "accept"
    CONDITIONAL_ACCEPT = "conditional_accept"
    CONDITIONAL_REJECT = "conditional_reject"
    REJECT = "reject"
    CANNOT_SAY = "cannot_say"


# The words of ILAC-G8:09/2019, 4.2.
OUTCOME_WORDS: Final = {
    DecisionOutcome.ACCEPT: "pass",
    DecisionOutcome.CONDITIONAL_ACCEPT: "conditional pass",
    DecisionOutcome.CONDITIONAL_REJECT: "conditional fail",
    DecisionOutcome.REJECT: "fail",
    DecisionOutcome.CANNOT_SAY: "cannot be said",
}


@dataclass(frozen=True, slots=True)
class Decision:
    """The outcome with everything it rests on; forces in N.

    Guard band, limits and probabilities are None where the uncertainty is not known in full.
    `risk_at_limit` is the greatest risk of accepting wrongly that the rule allows: that of a value
    measured exactly at an acceptance limit.
    """

    rule: Rule
    outcome: DecisionOutcome
    measured_n: int
    lower_n: int | None
    upper_n: int | None
    guard_band_n: Decimal | None
    accepted_from_n: int | None
    accepted_to_n: int | None
    probability: Decimal | None
    risk: Decimal | None
    risk_at_limit: Decimal | None
    reason: str
    is_provisional: bool = False

    @property
    def is_accepted(self) -> bool:
        """Say whether the rule accepts without a condition."""
        return self.outcome is DecisionOutcome.ACCEPT

    @property
    def words(self) -> str:
        """Give the outcome in the words of ILAC-G8."""
        return OUTCOME_WORDS[self.outcome]

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form that is kept with a test: whole newtons, and numbers as strings."""
        return {
            "rule": self.rule.as_json(),
            "outcome": self.outcome.value,
            "outcome_text": self.words,
            "measured_n": self.measured_n,
            "lower_n": self.lower_n,
            "upper_n": self.upper_n,
            "guard_band_n": _text(self.guard_band_n),
            "accepted_from_n": self.accepted_from_n,
            "accepted_to_n": self.accepted_to_n,
            "probability": _text(self.probability),
            "risk": _text(self.risk),
            "risk_at_limit": _text(self.risk_at_limit),
            "reason": self.reason,
            "source": ILAC.text,
            "is_provisional": self.is_provisional,
        }


def decide(
    *,
    measured_n: int,
    u_n: Decimal | None,
    expanded_n: Decimal | None,
    rule: Rule,
    lower_n: int | None = None,
    upper_n: int | None = None,
) -> Decision:
    """Decide on a measured force in N against limits in N, which belong to what conforms.

    For a minimum the acceptance limit is limit + w, for a maximum limit - w, with w = r U. `u_n`
    is the standard, `expanded_n` the expanded uncertainty; None where not known in full: then a
    guarded rule cannot say. Raises NoProbability without a limit, for limits out of order or an
    uncertainty below nought.
    """
    check_limits(u_n or 0, lower=lower_n, upper=upper_n)
    check_limits(expanded_n or 0, lower=lower_n, upper=upper_n)
    unsure = _without_band(measured_n, rule=rule, lower_n=lower_n, upper_n=upper_n)
    if u_n is None or expanded_n is None:
        return unsure
    band = rule.multiple * expanded_n
    outcome = _outcome(Decimal(measured_n), band, lower_n=lower_n, upper_n=upper_n)
    accepted_from = None if lower_n is None else _up(lower_n + band)
    accepted_to = None if upper_n is None else _down(upper_n - band)
    return replace(
        unsure,
        outcome=outcome,
        guard_band_n=band,
        accepted_from_n=accepted_from,
        accepted_to_n=accepted_to,
        probability=_share(conformance_probability(measured_n, u_n, lower=lower_n, upper=upper_n)),
        risk=_share(specific_consumers_risk(measured_n, u_n, lower=lower_n, upper=upper_n)),
        risk_at_limit=_risk_at_limit(u_n, band, lower_n=lower_n, upper_n=upper_n),
        reason=_reason(measured_n, accepted_from, accepted_to),
    )


def _without_band(
    measured_n: int, *, rule: Rule, lower_n: int | None, upper_n: int | None
) -> Decision:
    """Decide as far as that can be done without the uncertainty."""
    outcome = _outcome(Decimal(measured_n), Decimal(0), lower_n=lower_n, upper_n=upper_n)
    reason = _reason(measured_n, lower_n, upper_n)
    if rule.is_guarded:
        outcome = DecisionOutcome.CANNOT_SAY
        reason = "The uncertainty is not known in full, so no guard band can be kept."
    return Decision(
        rule=rule,
        outcome=outcome,
        measured_n=measured_n,
        lower_n=lower_n,
        upper_n=upper_n,
        guard_band_n=None,
        accepted_from_n=None if rule.is_guarded else lower_n,
        accepted_to_n=None if rule.is_guarded else upper_n,
        probability=None,
        risk=None,
        risk_at_limit=None,
        reason=reason,
    )


def _outcome(
    measured: Decimal, band: Decimal, *, lower_n: int | None, upper_n: int | None
) -> DecisionOutcome:
    """Find the zone by the smallest distance to a limit; within is above nought."""
    distances = []
    if lower_n is not None:
        distances.append(measured - lower_n)
    if upper_n is not None:
        distances.append(upper_n - measured)
    within = min(distances)
    if within >= band:
        return DecisionOutcome.ACCEPT
    if within >= 0:
        return DecisionOutcome.CONDITIONAL_ACCEPT
    if within >= -band:
        return DecisionOutcome.CONDITIONAL_REJECT
    return DecisionOutcome.REJECT


def _risk_at_limit(
    u_n: Decimal, band: Decimal, *, lower_n: int | None, upper_n: int | None
) -> Decimal | None:
    """Give the greatest risk among the values that are accepted: at an acceptance limit."""
    if not u_n:
        return Decimal(0)
    ends = []
    if lower_n is not None:
        ends.append(lower_n + band)
    if upper_n is not None:
        ends.append(upper_n - band)
    if len(ends) > 1 and ends[0] > ends[1]:
        return None
    return max(
        _share(specific_consumers_risk(end, u_n, lower=lower_n, upper=upper_n)) for end in ends
    )


def _reason(measured_n: int, low_n: int | None, high_n: int | None) -> str:
    if low_n is not None and high_n is not None and low_n > high_n:
        return (
            "The guard bands leave no force that could be accepted: measure with less uncertainty."
        )
    asked = []
    if low_n is not None:
        asked.append(f"at least {format_kn(low_n)}")
    if high_n is not None:
        asked.append(f"at most {format_kn(high_n)}")
    return f"{format_kn(measured_n)} measured, {' and '.join(asked)} accepted."


def _share(value: float) -> Decimal:
    return to_figures(Decimal(repr(value)), _SHARE_FIGURES)


def _up(value: Decimal) -> int:
    return int(value.to_integral_value(rounding=ROUND_CEILING))


def _down(value: Decimal) -> int:
    return int(value.to_integral_value(rounding=ROUND_FLOOR))


def _text(value: Decimal | None) -> str | None:
    return None if value is None else kept(value)
