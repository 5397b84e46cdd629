"""What one test of the wires of a rope comes to: strengths, grade, sum and calculated force.

It puts together what `wire_sampling`, `wire_grade` and `wire_force` find and lets nobody mix the
methods. What follows for the rope is `force_route`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from certs.rules.derived import Derived
from certs.rules.finding import Finding
from certs.rules.rope_grade import WireBand
from certs.rules.specification_row import Factor
from certs.rules.wire_bands import Sample
from certs.rules.wire_force import (
    PartialLoss,
    TotalLoss,
    calculated_after_unlaying,
    calculated_before_laying,
    partial_loss,
    sum_after_unlaying,
    sum_before_laying,
    total_loss,
)
from certs.rules.wire_force_findings import (
    Outcome,
    aggregate_findings,
    force_finding,
    sum_finding,
)
from certs.rules.wire_grade import WireGrade, judge_grade
from certs.rules.wire_lines import MOST_LINES
from certs.rules.wire_sampling import (
    SamplingPlan,
    least_wires,
    most_wires,
    sampling_finding,
    sampling_plan,
)
from certs.rules.wire_strength import Wire
from inventory.rules.refusal import Refusal
from inventory.rules.rope_designation import RopeDesignation


class Method(StrEnum):
    """How a breaking force is found from wires (ISO 10425:2003 5.1.4)."""

    AFTER_UNLAYING = "after_unlaying"
    BEFORE_LAYING = "before_laying"

    @property
    def number(self) -> int:
        """The number of the method in the standard; 1 is the actual test."""
        return 2 if self is Method.AFTER_UNLAYING else 3


@dataclass(frozen=True, slots=True)
class Tables:
    """What is held: bands of EN 10264-1, grades that are tabulated, the factor of the rope."""

    bands: tuple[WireBand, ...]
    grades: tuple[str, ...] = ()
    factor: Factor | None = None


@dataclass(frozen=True, slots=True)
class WireVerdict:
    """All that a test of wires says; forces in N."""

    outcome: Outcome
    grade: WireGrade
    total: Derived
    calculated: Derived | None
    findings: tuple[Finding, ...]

    @property
    def sum_n(self) -> int:
        """The sum of the wire forces in N."""
        return int(self.total.stated)

    @property
    def calculated_n(self) -> int | None:
        """The calculated breaking force in N, None where no factor is known."""
        return None if self.calculated is None else int(self.calculated.stated)

    @property
    def derivations(self) -> tuple[Derived, ...]:
        """The calculated force with all it rests on, or the sum alone."""
        return (self.calculated or self.total,)


def judge_after_unlaying(
    *,
    rope: RopeDesignation,
    steel: str,
    wires: Sequence[Wire],
    loss: PartialLoss | None,
    required_n: int,
    tables: Tables,
) -> WireVerdict:
    """Judge wires taken from the rope (method 2).

    Raises Refusal for compacted strands, and for wires that stand for more than the rope has.
    """
    _check_count(rope, wires)
    plan = sampling_plan(rope, wires)
    sample = Sample(steel, tuple(wires), plan.required, plan.is_whole)
    total = sum_after_unlaying(wires)
    calculated = calculated_after_unlaying(total, loss) if loss else None
    grade = judge_grade(marked=rope.grade, sample=sample, rows=tables.bands, grades=tables.grades)
    return _verdict(rope, wires, tables, required_n, (plan, grade, total.derived, calculated))


def judge_before_laying(
    *,
    rope: RopeDesignation,
    steel: str,
    wires: Sequence[Wire],
    loss: TotalLoss | None,
    required_n: int,
    tables: Tables,
) -> WireVerdict:
    """Judge wires tested before they were laid (method 3); Annex B does not speak of these.

    They say nothing of the grade unless they stand for all wires; none may lie outside then (own
    decision, safe side). Raises Refusal for wires that stand for more than the rope has.
    """
    _check_count(rope, wires)
    least = least_wires(rope)
    is_whole = least is not None and sum(wire.represents for wire in wires) >= least
    sample = Sample(steel, tuple(wires), len(wires), is_whole, may_be_outside=False)
    total = sum_before_laying(wires)
    calculated = calculated_before_laying(total, loss) if loss else None
    grade = judge_grade(marked=rope.grade, sample=sample, rows=tables.bands, grades=tables.grades)
    return _verdict(rope, wires, tables, required_n, (None, grade, total.derived, calculated))


def loss_for(
    method: Method, values: Sequence[Decimal], *, source: str
) -> PartialLoss | TotalLoss | None:
    """Give the factor that belongs to the method: partial or total; None where none is known.

    Raises Refusal for factors that cannot be, and for a source without a factor.
    """
    if not values:
        if source.strip():
            message = "A source is named, and no spinning-loss factor: give it, or leave both out."
            raise Refusal(message, field="spinning_factors")
        return None
    make = partial_loss if method is Method.AFTER_UNLAYING else total_loss
    return make(values, source=source)


_Parts = tuple[SamplingPlan | None, WireGrade, Derived, Derived | None]


def _verdict(
    rope: RopeDesignation,
    wires: Sequence[Wire],
    tables: Tables,
    required_n: int,
    parts: _Parts,
) -> WireVerdict:
    plan, grade, total, calculated = parts
    outcome = _outcome(calculated, required_n)
    findings = (
        force_finding(total, calculated, required_n, outcome),
        *((sampling_finding(plan),) if plan else ()),
        *grade.findings,
        sum_finding(rope, wires),
        *aggregate_findings(rope, total, tables.factor),
    )
    return WireVerdict(outcome, grade, total, calculated, findings)


def _check_count(rope: RopeDesignation, wires: Iterable[Wire]) -> None:
    listed = list(wires)
    if len(listed) > MOST_LINES:
        message = f"{len(listed)} wires are more than a sample has; give at most {MOST_LINES}."
        raise Refusal(message, field="wires")
    most, stands_for = most_wires(rope), sum(wire.represents for wire in listed)
    if most is not None and stands_for > most:
        message = (
            f"The wires stand for {stands_for} wires, but {rope.construction}"
            f"{f'-{rope.core}' if rope.core else ''} has at most {most}: check how many each"
            " represents."
        )
        raise Refusal(message, field="wires")


def _outcome(calculated: Derived | None, required_n: int) -> Outcome:
    if calculated is None:
        return Outcome.CANNOT_SAY
    return Outcome.MEETS if calculated.stated >= required_n else Outcome.FALLS_SHORT
