"""How a breaking force calculated from wires is told: the verdict on it, and its grounds."""

from collections.abc import Sequence
from enum import StrEnum
from typing import Final

from certs.rules.derived import Derived, Given, plain
from certs.rules.finding import Finding, Verdict
from certs.rules.specification_row import Factor
from certs.rules.wire_force import METHODS, calculated_aggregate
from certs.rules.wire_sampling import least_wires
from certs.rules.wire_strength import Wire, in_wires
from inventory.rules.rope_designation import RopeDesignation
from inventory.rules.units import format_kn

FORCE_TOPIC: Final = "Calculated breaking force"
SUM_TOPIC: Final = "Wires the sum stands for"
AGGREGATE_TOPIC: Final = "Sum and nominal metal area"


class Outcome(StrEnum):
    """What the calculated force says of the required one."""

    MEETS = "meets"
    FALLS_SHORT = "falls_short"
    CANNOT_SAY = "cannot_say"


_FORCE_VERDICTS: Final = {
    Outcome.MEETS: Verdict.AGREE,
    Outcome.FALLS_SHORT: Verdict.DISAGREE,
    Outcome.CANNOT_SAY: Verdict.CANNOT_SAY,
}


def force_finding(
    total: Derived, calculated: Derived | None, required_n: int, outcome: Outcome
) -> Finding:
    """Hold the calculated force against the required one, in N."""
    required = format_kn(required_n)
    if calculated is None:
        text = (
            f"The wires sum up to {format_kn(int(total.stated))}. No spinning-loss factor is"
            f" known, so nothing is said of the {required} required: a sum is no breaking force."
        )
    else:
        force = format_kn(int(calculated.stated))
        text = (
            f"{force} calculated, {required} required."
            if outcome is Outcome.MEETS
            else f"{force} calculated, {required} required: break a sample (method 1). The"
            " certified force is not changed by a calculation."
        )
    return Finding(
        topic=FORCE_TOPIC,
        verdict=_FORCE_VERDICTS[outcome],
        text=text,
        rule="sum of the wire forces times the spinning-loss factor, against the required force",
        source=METHODS,
        given=(Given("Freq", "required breaking force", str(required_n), "N"),),
        derived=(calculated or total,),
    )


def sum_finding(rope: RopeDesignation, wires: Sequence[Wire]) -> Finding:
    """Say whether the sum stands for every wire that bears."""
    least, stands_for = least_wires(rope), sum(wire.represents for wire in wires)
    if least is not None and stands_for >= least:
        verdict, text = Verdict.AGREE, f"The sum stands for {in_wires(stands_for)}."
    elif least is not None:
        verdict = Verdict.CANNOT_SAY
        text = (
            f"The sum stands for {in_wires(stands_for)}; the strands of {rope.construction} have"
            f" {least} without fillers, centres and core. What is left out makes it too low."
        )
    else:
        verdict = Verdict.CANNOT_SAY
        text = (
            f"The sum stands for {in_wires(stands_for)}; the designation does not tell how many the"
            " rope has."
        )
    return Finding(
        topic=SUM_TOPIC,
        verdict=verdict,
        text=text,
        rule="every wire of the rope is in the sum",
        source=METHODS,
    )


def aggregate_findings(
    rope: RopeDesignation, total: Derived, factor: Factor | None
) -> tuple[Finding, ...]:
    """Set the sum beside C d² Rr: information, as neither of them is a breaking force."""
    aggregate = calculated_aggregate(rope, factor) if factor else None
    if aggregate is None:
        return ()
    share = total.stated / (aggregate.stated * 1000) * 100
    return (
        Finding(
            topic=AGGREGATE_TOPIC,
            verdict=Verdict.AGREE if share >= 100 else Verdict.CANNOT_SAY,  # noqa: PLR2004 -- per cent
            text=(
                f"The wires sum up to {share:.1f} % of the calculated aggregate force"
                f" {plain(aggregate.stated)} kN. For information: neither is a breaking force."
            ),
            rule="Fe.min = C d² Rr / 1000, never Fmin",
            source=aggregate.source,
            derived=(aggregate,),
        ),
    )
