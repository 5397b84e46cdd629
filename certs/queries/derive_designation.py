"""Derives breaking force, mass and diameter limits of a designation from the loaded tables.

It decides which row is used when several fit: the one that gives the lowest force. What is on the
certificate of a reel is decided by `derivation`, where a person has named the basis.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from certs.models import ForceFactor, TabulatedForce
from certs.queries.specification_rows import (
    are_loaded,
    factor_of,
    table_row_of,
    tolerance_rows,
)
from certs.rules.breaking_force import (
    derive_from_factor,
    derive_from_table,
    in_kilonewtons,
    whole_newtons,
)
from certs.rules.derived import Derived, Gap
from certs.rules.length_mass import QUANTITY as MASS
from certs.rules.length_mass import length_mass, length_mass_from_table
from certs.rules.mass_unit import in_kg_per_100m
from certs.rules.rope_match import NoBasis, fitting_factors, fitting_rows, nearby
from certs.rules.specification_row import Factor, TableRow
from certs.rules.tolerance import DiameterLimits, diameter_limits, limits_from_table
from inventory.rules.designation import RopeDesignation, parse_designation
from inventory.rules.refusal import Refusal

DIAMETER_STANDARD = "EN 12385-4"


class TablesNotLoaded(Refusal):
    """There is nothing to derive from yet."""


class UnknownCombination(NoBasis):
    """Nothing is held for this rope; `known_nearby` says what is."""

    def __init__(self, message: str, *, known_nearby: Sequence[str], field: str = "") -> None:
        """Take a whole sentence, and what is held near the combination."""
        super().__init__(message, field=field or "designation")
        self.known_nearby = tuple(known_nearby)


@dataclass(frozen=True, slots=True)
class Derivation:
    """What follows from a designation and one row; `others` are rows that fit but gave way."""

    designation: RopeDesignation
    force: Derived
    mass: Derived | Gap
    diameter: DiameterLimits | Gap
    others: tuple[str, ...]

    @property
    def force_kn(self) -> Derived:
        """The breaking force in kN."""
        return in_kilonewtons(self.force)

    @property
    def gaps(self) -> tuple[Gap, ...]:
        """What could not be derived, and why."""
        return tuple(part for part in (self.mass, self.diameter) if isinstance(part, Gap))


def derive(designation_text: str, table: str | None = None) -> Derivation:
    """Derive from the factor of the rope's class, or from the named published table.

    Raises DesignationError, TablesNotLoaded, or UnknownCombination.
    """
    designation = parse_designation(designation_text)
    if not are_loaded():
        message = (
            "The specification tables are not loaded yet. Load them with: "
            "manage.py load_specifications"
        )
        raise TablesNotLoaded(message)
    if table is None:
        return _from_factors(designation)
    return _from_table(designation, table)


def factor_mass(designation: RopeDesignation, factor: Factor) -> Derived | Gap:
    """Give the mass from a factor; a gap where the row holds no mass factor."""
    if factor.W is None:
        reason = (
            f"No mass factor W is held for class {factor.rope_class}: "
            "enter it from your copy of the standard, or weigh a length."
        )
        return Gap(MASS, reason, factor.source)
    return length_mass(designation, factor)


def table_mass(designation: RopeDesignation, row: TableRow) -> Derived | Gap:
    """Give the mass printed in a table row, in kg per 100 m; a gap where none is printed."""
    mass = length_mass_from_table(designation, row)
    return mass if isinstance(mass, Gap) else in_kg_per_100m(mass)


def standard_diameter(designation: RopeDesignation) -> DiameterLimits | Gap:
    """Give the limits of diameter under EN 12385-4; a gap where none were read."""
    return diameter_limits(designation, standard=DIAMETER_STANDARD, rows=tolerance_rows())


def _from_factors(designation: RopeDesignation) -> Derivation:
    factors = [factor_of(row) for row in ForceFactor.objects.order_by("id")]
    fitting = fitting_factors(designation, factors)
    if not fitting:
        message = f"No factor is held for {designation.text}."
        raise _unknown(message, designation, factors)
    try:
        derived = [(derive_from_factor(designation, factor), factor) for factor in fitting]
    except NoBasis as refusal:
        raise _unknown(refusal.message, designation, factors, refusal.field) from refusal
    derived.sort(key=lambda pair: pair[0].unrounded)
    (force, factor), *rest = derived
    return Derivation(
        designation=designation,
        force=force,
        mass=factor_mass(designation, factor),
        diameter=standard_diameter(designation),
        others=_others([other for other, _ in rest]),
    )


def _from_table(designation: RopeDesignation, table: str) -> Derivation:
    rows = [table_row_of(row) for row in TabulatedForce.objects.order_by("id")]
    named = [row for row in rows if table.casefold() in _names(row)]
    if not named:
        held = ", ".join(dict.fromkeys(row.standard for row in rows))
        message = f"No table “{table}” is held. Held are: {held}."
        raise UnknownCombination(message, known_nearby=(), field="table")
    fitting = fitting_rows(designation, named)
    if not fitting:
        message = f"{table} holds no row for {designation.text}."
        factors = [factor_of(row) for row in ForceFactor.objects.order_by("id")]
        raise UnknownCombination(message, known_nearby=nearby(designation, factors, rows))
    derived = [(derive_from_table(designation, row), row) for row in fitting]
    derived.sort(key=lambda pair: whole_newtons(pair[0]))
    (force, row), *rest = derived
    return Derivation(
        designation=designation,
        force=force,
        mass=table_mass(designation, row),
        diameter=limits_from_table(designation, row),
        others=_others([other for other, _ in rest]),
    )


def _names(row: TableRow) -> tuple[str, ...]:
    return (row.standard.casefold(), row.name.casefold())


def _others(derived: Sequence[Derived]) -> tuple[str, ...]:
    return tuple(f"{force.text}: {force.basis}; {force.source.text}" for force in derived)


def _unknown(
    message: str, designation: RopeDesignation, factors: Sequence[Factor], field: str = ""
) -> UnknownCombination:
    rows = [table_row_of(row) for row in TabulatedForce.objects.order_by("id")]
    return UnknownCombination(message, known_nearby=nearby(designation, factors, rows), field=field)
