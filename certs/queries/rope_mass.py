"""Which masses per length speak of a reel's rope, and of a designation; each is named.

What follows from a mass, a length or a weight, is worked out by the rules.
"""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from certs.models import ForceFactor, TabulatedForce
from certs.queries.derivation import diameter_limits, length_mass
from certs.queries.derive_designation import factor_mass, table_mass
from certs.queries.receiving_checks import last_weighing
from certs.queries.specification_rows import factor_of, table_row_of
from certs.rules.derived import Derived, Gap
from certs.rules.length_mass import QUANTITY
from certs.rules.mass_unit import declared_mass
from certs.rules.received_mass import weighed_mass
from certs.rules.rope_match import NoBasis, fitting_factors, fitting_rows
from certs.rules.specification_row import Factor, TableRow
from certs.rules.tolerance import DiameterLimits
from inventory.models import Reel
from inventory.rules.designation import parse_designation


def masses_of(reel: Reel) -> list[Derived | Gap]:
    """List the mass in kg per 100 m by the basis named for a reel, and the one declared for it.

    Where neither gives one, it is that of the length weighed at goods in, or a gap.
    """
    try:
        by_basis = length_mass(reel)
    except NoBasis as problem:
        by_basis = Gap(QUANTITY, problem.message)
    declared_g = reel.declared_mass_g_per_100m
    if declared_g is None:
        weighed = _weighed(reel) if isinstance(by_basis, Gap) else None
        return [weighed or by_basis]
    document = reel.mill_document
    name = f"mill document {document.number}" if document else f"the marking of reel {reel.code}"
    declared = declared_mass(g_per_100m=declared_g, document=name)
    return [declared] if by_basis == declared else [by_basis, declared]


def _weighed(reel: Reel) -> Derived | None:
    check = last_weighing(reel)
    if check is None or check.weighed_length_mm is None or check.weighed_mass_g is None:
        return None
    return weighed_mass(length_mm=check.weighed_length_mm, mass_g=check.weighed_mass_g)


def limits_of(reel: Reel) -> DiameterLimits | None:
    """Give the limits of diameter on the reel's basis; None where none are held or named."""
    try:
        limits = diameter_limits(reel)
    except NoBasis:
        return None
    return None if isinstance(limits, Gap) else limits


def nominal_masses(designations: Iterable[str]) -> dict[str, Derived | Gap]:
    """Give the mass of each designation by factor, or else by table, in two queries.

    Where several speak of the rope the heaviest is taken: a weight is for who lifts it.
    """
    factors = [factor_of(row) for row in ForceFactor.objects.order_by("id")]
    rows = [table_row_of(row) for row in TabulatedForce.objects.order_by("id")]
    return {text: _nominal(text, factors, rows) for text in designations}


def _nominal(text: str, factors: Sequence[Factor], rows: Sequence[TableRow]) -> Derived | Gap:
    found = [*_by_factor(text, factors)] or [*_by_table(text, rows)]
    if not found:
        reason = (
            f"No mass is held for {text}: weigh a length, or enter it from your copy of the"
            " standard."
        )
        return Gap(QUANTITY, reason)
    return max(found, key=_heaviness)


def _by_factor(text: str, factors: Sequence[Factor]) -> Iterator[Derived]:
    rope = parse_designation(text)
    for factor in fitting_factors(rope, factors):
        mass = factor_mass(rope, factor)
        if isinstance(mass, Derived):
            yield mass


def _by_table(text: str, rows: Sequence[TableRow]) -> Iterator[Derived]:
    rope = parse_designation(text)
    for row in fitting_rows(rope, rows):
        mass = table_mass(rope, row)
        if isinstance(mass, Derived):
            yield mass


def _heaviness(mass: Derived) -> Decimal:
    return mass.stated
