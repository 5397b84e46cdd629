"""The rows of the specification tables in the form that the rules read.

What a row means is said by the rules; here it is only fetched and handed over as printed.
"""

from decimal import Decimal

from certs.models import (
    AgreedSpecification,
    DiameterTolerance,
    ForceFactor,
    GradeName,
    MachineClass,
    ProofLoadRule,
    SlingLegFactor,
    SlingLoad,
    SteelLimits,
    TabulatedForce,
    TerminationEfficiency,
)
from certs.queries.specification_columns import (
    DIAMETER_TOLERANCES,
    FORCE_FACTORS,
    GRADE_NAMES,
    LEG_FACTORS,
    PROOF_LOADS,
    SLING_LOADS,
    STEEL_LIMITS,
    TABULATED_FORCES,
    TERMINATIONS,
)
from certs.rules import (
    machine,
    proof_load,
    rope_grade,
    sling_legs,
    steel_limits,
    tolerance,
    working_load,
)
from certs.rules.agreed_basis import Agreed
from certs.rules.derived import Source
from certs.rules.specification_row import Factor, TableRow, decimal_or_none
from certs.rules.termination import TerminationRow


def are_loaded() -> bool:
    """Tell whether the specification tables have been loaded."""
    return ForceFactor.objects.exists()


def factor_of(row: ForceFactor) -> Factor:
    """Give one factor row to the rules."""
    return Factor.read(FORCE_FACTORS.as_read(row))


def table_row_of(row: TabulatedForce) -> TableRow:
    """Give one row of a published force table to the rules."""
    return TableRow.read(TABULATED_FORCES.as_read(row))


def agreed_of(row: AgreedSpecification) -> Agreed:
    """Give one agreed specification to the rules; its source is the paper that both hold."""
    source = Source(
        name=row.name,
        edition=row.edition,
        confidence="agreed between the parties",
        note=f"Paper: {row.paper}",
    )
    return Agreed(
        source=source,
        factor_k=row.factor_k,
        force_n=row.force_n,
        factor_w=row.factor_w,
        diameter_minus_pct=row.diameter_minus_pct,
        diameter_plus_pct=row.diameter_plus_pct,
        mass_minus_pct=row.mass_minus_pct,
        mass_plus_pct=row.mass_plus_pct,
    )


def tolerance_rows() -> list[tolerance.DiameterTolerance]:
    """List the limits of diameter."""
    rows = DiameterTolerance.objects.order_by("id")
    return [tolerance.DiameterTolerance.read(DIAMETER_TOLERANCES.as_read(row)) for row in rows]


def termination_rows() -> list[TerminationRow]:
    """List the efficiencies of terminations."""
    rows = TerminationEfficiency.objects.order_by("id")
    return [TerminationRow.read(TERMINATIONS.as_read(row)) for row in rows]


def leg_factor_rows() -> list[sling_legs.LegFactor]:
    """List the leg factors of slings."""
    rows = SlingLegFactor.objects.order_by("id")
    return [sling_legs.LegFactor.read(LEG_FACTORS.as_read(row)) for row in rows]


def published_load_rows() -> list[working_load.PublishedLoad]:
    """List the printed working load limits of slings."""
    rows = SlingLoad.objects.order_by("id")
    return [working_load.PublishedLoad.read(SLING_LOADS.as_read(row)) for row in rows]


def proof_load_rows() -> list[proof_load.ProofRow]:
    """List the rules by which proof loads are asked for."""
    rows = ProofLoadRule.objects.order_by("id")
    return [proof_load.ProofRow.read(PROOF_LOADS.as_read(row)) for row in rows]


def grade_name_rows() -> list[rope_grade.GradeName]:
    """List what sources say of US grade names in metric terms."""
    rows = GradeName.objects.order_by("id")
    return [rope_grade.GradeName.read(GRADE_NAMES.as_read(row)) for row in rows]


def steel_limit_rows() -> list[steel_limits.SteelLimits]:
    """List the limits of ladle analyses."""
    rows = SteelLimits.objects.order_by("id")
    return [steel_limits.SteelLimits.read(STEEL_LIMITS.as_read(row) | row.limits) for row in rows]


def machine_class_rows() -> list[machine.MachineClass]:
    """List the classes of testing machines with the errors that each allows, in per cent."""
    return [
        machine.MachineClass(
            name=row.machine_class,
            q_pct=Decimal(row.accuracy_pct),
            source=row.source,
            confidence=row.confidence,
            repeatability_pct=decimal_or_none(row.repeatability_pct),
            resolution_pct=decimal_or_none(row.resolution_pct),
        )
        for row in MachineClass.objects.order_by("id")
    ]
