"""Puts the decision on a measured force into words, from what was kept with the test.

Page and paper tell it with the same words. Nothing is computed or judged here again.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from typing import Any, Final

from certs.rules.conformity import DecisionOutcome
from certs.rules.derived import trimmed
from certs.rules.uncertainty_component import to_figures
from inventory.rules.units import format_kn

Kept = Mapping[str, Any]

FIGURES = 3
# With more degrees of freedom the coverage factor is that of the normal distribution.
MOST_TOLD: Final = 1000
# Beyond these a share is told as a bound: more digits would claim more than a budget can hold.
_LEAST, _MOST = Decimal("0.0001"), Decimal("0.9999")
SHAPES: Final = {
    DecisionOutcome.ACCEPT.value: "good",
    DecisionOutcome.REJECT.value: "stop",
}
PROVISIONAL: Final = (
    "The uncertainty rests in part on values from memory: compare them with the standard, or enter"
    " what the calibration certificate states."
)


@dataclass(frozen=True, slots=True)
class ToldFact:
    """A word, a text and what there is to add."""

    word: str
    text: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class ToldComponent:
    """One line of the budget, in words; the contribution is in the unit of the result."""

    name: str
    distribution: str
    divisor: str
    degrees_of_freedom: str
    contribution: str
    source: str


@dataclass(frozen=True, slots=True)
class ToldDecision:
    """A decision and the budget behind it; `shape` is that of a state on a page."""

    outcome: str
    shape: str
    reason: str
    rule: str
    facts: tuple[ToldFact, ...]
    components: tuple[ToldComponent, ...]
    notes: tuple[str, ...]
    has_named_rule: bool


def tell_decision(*, decision: Kept, uncertainty: Kept) -> ToldDecision | None:
    """Tell what was kept with a test; None for a test of which nothing was kept."""
    if not decision:
        return None
    return ToldDecision(
        outcome=decision["outcome_text"],
        shape=SHAPES.get(decision["outcome"], "wait"),
        reason=decision["reason"],
        rule=decision["rule"]["words"],
        facts=(*_decision_facts(decision), *tell_budget(uncertainty)),
        components=tell_components(uncertainty),
        notes=tuple(_notes(decision, uncertainty)),
        has_named_rule=bool(decision["rule"]["code"]),
    )


def tell_budget(uncertainty: Kept) -> tuple[ToldFact, ...]:
    """Tell what the components come to."""
    if not uncertainty:
        return (ToldFact("Uncertainty", "not known", "no class of testing machine is held"),)
    unit = uncertainty["unit"]
    dof = uncertainty["effective_degrees_of_freedom"]
    at_least = "" if uncertainty["is_complete"] else "more than "
    return (
        ToldFact(
            "Expanded uncertainty U",
            f"{at_least}{_figures(uncertainty['stated'])} {unit}",
            f"k = {_figures(uncertainty['coverage_factor'])} for"
            f" {trimmed(Decimal(uncertainty['coverage']) * 100)} %",
        ),
        ToldFact(
            "Combined standard uncertainty",
            f"{at_least}{_figures(uncertainty['combined'])} {unit}",
            f"effective degrees of freedom: {_degrees(dof)}",
        ),
    )


def tell_components(uncertainty: Kept) -> tuple[ToldComponent, ...]:
    """Tell the components line by line."""
    if not uncertainty:
        return ()
    unit = uncertainty["unit"]
    return tuple(
        ToldComponent(
            name=part["name"],
            distribution=part["distribution"],
            divisor=_figures(part["divisor"]),
            degrees_of_freedom=_degrees(part["degrees_of_freedom"]),
            contribution=f"{_figures(part['contribution'])} {unit}",
            source=part["source"],
        )
        for part in uncertainty["components"]
    )


def tell_share(value: str | Decimal) -> str:
    """Write a share in per cent; what is nearly nothing or nearly all as a bound."""
    share = Decimal(value)
    if share < _LEAST:
        return f"less than {trimmed(_LEAST * 100)} %"
    if share > _MOST:
        return f"more than {trimmed(_MOST * 100)} %"
    return f"{trimmed(round(share * 100, 2))} %"


def _decision_facts(decision: Kept) -> Iterator[ToldFact]:
    rule = decision["rule"]
    named = f"{rule['code']} {rule['name']}".strip()
    yield ToldFact("Decision rule", named, rule["paper"])
    yield ToldFact("Measured", format_kn(decision["measured_n"]))
    for word, limit, accepted in (
        ("Required at least", "lower_n", "accepted_from_n"),
        ("Allowed at most", "upper_n", "accepted_to_n"),
    ):
        if decision[limit] is not None:
            yield ToldFact(word, format_kn(decision[limit]), _accepted(decision, accepted))
    if decision["guard_band_n"] is not None and Decimal(decision["guard_band_n"]):
        band_n = Decimal(decision["guard_band_n"]).to_integral_value(rounding=ROUND_CEILING)
        yield ToldFact("Guard band w", f"{band_n} N")
    yield from _shares(decision)


def _accepted(decision: Kept, name: str) -> str:
    force_n = decision[name]
    if force_n is None:
        return "the acceptance limit cannot be said"
    return f"accepted {'from' if name == 'accepted_from_n' else 'to'} {format_kn(force_n)}"


def _shares(decision: Kept) -> Iterator[ToldFact]:
    if decision["probability"] is None:
        yield ToldFact("Probability that it conforms", "not known")
        return
    yield ToldFact(
        "Probability that it conforms",
        tell_share(decision["probability"]),
        f"that it does not: {tell_share(decision['risk'])}",
    )
    if decision["risk_at_limit"] is not None:
        yield ToldFact(
            "Greatest risk of accepting wrongly",
            tell_share(decision["risk_at_limit"]),
            "at the acceptance limit, by this rule",
        )


def _notes(decision: Kept, uncertainty: Kept) -> Iterator[str]:
    if uncertainty:
        yield from uncertainty["gaps"]
        yield from uncertainty["remarks"]
    if decision["is_provisional"]:
        yield PROVISIONAL


def _degrees(text: str | None) -> str:
    if text is None:
        return "not limited"
    if Decimal(text) > MOST_TOLD:
        return f"more than {MOST_TOLD}"
    return trimmed(round(Decimal(text), 1))


def _figures(text: str) -> str:
    return trimmed(to_figures(Decimal(text), FIGURES))
