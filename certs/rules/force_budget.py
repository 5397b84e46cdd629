"""How uncertain a force is that a testing machine shows, from what is known of the machine.

It decides which components count and what stands in for a figure that the calibration does not
give. How they combine is decided by `uncertainty_budget`.
"""

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from certs.rules.derived import Gap, Source
from certs.rules.machine import MachineClass, column_source
from certs.rules.uncertainty_budget import USUAL_COVERAGE, Budget, budget
from certs.rules.uncertainty_component import (
    Component,
    Distribution,
    NoBudget,
    from_expanded,
    spread_evenly,
)

HUNDRED: Final = Decimal(100)
# ISO 7500-1 states the greatest difference of three series (from memory). The mean range of three
# is 1.693 standard deviations (d2 of three, NIST/SEMATECH e-Handbook 6.3.2).
SERIES: Final = 3
RANGE_OF_THREE: Final = Decimal("1.693")
NO_UNCERTAINTY: Final = (
    "No value held for the uncertainty of the calibration: enter it from the calibration"
    " certificate. Without it the true uncertainty is greater than this."
)


@dataclass(frozen=True, slots=True)
class MachineKnowledge:
    """What a calibration certificate says of a machine; None where it does not.

    Percentages are of the force. `uncertainty_pct` is expanded by `coverage_factor`;
    `repeatability_pct` is the greatest difference of three series.
    """

    name: str
    uncertainty_pct: Decimal | None = None
    coverage_factor: Decimal | None = None
    repeatability_pct: Decimal | None = None
    resolution_n: int | None = None


def force_budget(
    force_n: int,
    *,
    row: MachineClass,
    known: MachineKnowledge,
    coverage: Decimal = USUAL_COVERAGE,
) -> Budget:
    """Give the uncertainty in N of a force in N, shown by a machine of this class (GUM).

    The error of indication is not corrected, so the greatest that the class allows counts either
    way. Repeatability and resolution that the calibration does not give are taken at the greatest
    that the class allows. An uncertainty of calibration that it does not give is a gap. A
    certificate whose uncertainty covers repeatability or resolution already makes them count
    twice, which is the safe side. Raises NoBudget for a force that is not above nought.
    """
    if force_n <= 0:
        raise NoBudget("The force is above nought.", field="force_n")
    force = Decimal(force_n)
    certificate = Source(f"calibration certificate {known.name}", confidence="read")
    possible = (
        _error(force, row),
        _calibration(force, known, certificate),
        _repeatability(force, row, known, certificate),
        _resolution(force, row, known, certificate),
    )
    found = budget(
        [part for part in possible if isinstance(part, Component)],
        coverage=coverage,
        quantity="force",
        unit="N",
    )
    return replace(found, gaps=tuple(part for part in possible if isinstance(part, Gap)))


def _error(force: Decimal, row: MachineClass) -> Component:
    return spread_evenly(
        f"error of indication, not corrected: ±{row.q_pct} % (class {row.name})",
        half_width=force * row.q_pct / HUNDRED,
        source=column_source(row, "q"),
    )


def _calibration(force: Decimal, known: MachineKnowledge, source: Source) -> Component | Gap:
    if known.uncertainty_pct is None or known.coverage_factor is None:
        return Gap("uncertainty of the calibration", NO_UNCERTAINTY, source)
    return from_expanded(
        f"calibration: U = {known.uncertainty_pct} %, k = {known.coverage_factor}",
        expanded=force * known.uncertainty_pct / HUNDRED,
        factor=known.coverage_factor,
        source=source,
    )


def _repeatability(
    force: Decimal, row: MachineClass, known: MachineKnowledge, certificate: Source
) -> Component | Gap:
    if known.repeatability_pct is not None:
        return Component(
            name=f"repeatability: {known.repeatability_pct} % between three series",
            value=Decimal(0),
            standard_uncertainty=force * known.repeatability_pct / HUNDRED / RANGE_OF_THREE,
            distribution=Distribution.NORMAL,
            divisor=RANGE_OF_THREE,
            degrees_of_freedom=Decimal(SERIES - 1),
            source=certificate,
        )
    if row.repeatability_pct is None:
        return _no_value("repeatability", row)
    return spread_evenly(
        f"repeatability: not stated, the greatest of the class, {row.repeatability_pct} %",
        half_width=force * row.repeatability_pct / HUNDRED,
        source=column_source(row, "b"),
    )


def _resolution(
    force: Decimal, row: MachineClass, known: MachineKnowledge, certificate: Source
) -> Component | Gap:
    if known.resolution_n is not None:
        return spread_evenly(
            f"resolution: {known.resolution_n} N",
            half_width=Decimal(known.resolution_n) / 2,
            source=certificate,
        )
    if row.resolution_pct is None:
        return _no_value("resolution", row)
    return spread_evenly(
        f"resolution: not stated, the greatest of the class, {row.resolution_pct} %",
        half_width=force * row.resolution_pct / HUNDRED / 2,
        source=column_source(row, "a"),
    )


def _no_value(quantity: str, row: MachineClass) -> Gap:
    reason = (
        f"No value held for the {quantity} of class {row.name}: enter it from the calibration"
        " certificate. Without it the true uncertainty is greater than this."
    )
    return Gap(quantity, reason)
