"""The mass of a length of rope, from the factor of its class or from a published table.

Whether a factor or row speaks of the rope is decided by `rope_match`.
"""

from decimal import Decimal

from certs.rules.breaking_force import AS_PRINTED, HALF_UP
from certs.rules.derived import Derived, Gap, Given, plain, round_half_up, trimmed
from certs.rules.rope_match import NoBasis, check_row, fitting_class
from certs.rules.specification_row import Factor, TableRow
from inventory.rules.rope_designation import RopeDesignation

QUANTITY = "length mass"


def length_mass(designation: RopeDesignation, factor: Factor) -> Derived:
    """Give the mass in kg per 100 m as W d², d in mm (EN 12385-2 clause 3.10).

    Raises NoBasis where class or core differ, and where no W is held.
    """
    found = fitting_class(designation, factor)
    if factor.W is None:
        message = (
            f"No mass factor W is held for class {factor.rope_class}: "
            "enter it from your copy of the standard, or weigh a length."
        )
        raise NoBasis(message, field="mass")
    unrounded = factor.W * designation.diameter_mm**2
    return Derived(
        quantity=QUANTITY,
        symbol="M",
        formula="M = W d²",
        inputs=(
            Given("W", f"mass factor of class {found.name}", plain(factor.W), "", factor.source),
            Given("d", "nominal diameter", trimmed(designation.diameter_mm), "mm"),
            # A class known from memory makes a mass that may warn, and reject nothing.
            Given("class", f"class of {designation.construction}", found.name, "", found.source),
        ),
        source=factor.source,
        unrounded=unrounded,
        stated=round_half_up(unrounded),
        unit="kg/100m",
        rounding=HALF_UP,
        basis=f"factor W = {factor.W} of class {found.name}",
    )


def length_mass_from_table(designation: RopeDesignation, row: TableRow) -> Derived | Gap:
    """Give the printed mass in the printed unit, or a gap where the table prints none.

    Raises NoBasis where the row speaks of another rope.
    """
    remarks = check_row(designation, row)
    if not row.mass:
        return Gap(QUANTITY, f"{row.name} prints no mass for this rope.", row.source)
    printed = Decimal(row.mass)
    return Derived(
        quantity=QUANTITY,
        symbol="M",
        formula="M = Mtab",
        inputs=(Given("Mtab", "printed mass", row.mass, row.mass_unit, row.source),),
        source=row.source,
        unrounded=printed,
        stated=printed,
        unit=row.mass_unit,
        rounding=AS_PRINTED,
        basis=f"table row of {row.name}",
        remarks=remarks,
    )
