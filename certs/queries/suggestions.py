"""What may be named as the basis of a rope's strength: every row held that speaks of it.

Which of them stands is a person's decision, and is named with its reason.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from certs.models import AgreedSpecification, ForceFactor, StrengthBasis, TabulatedForce
from certs.queries.specification_rows import agreed_of, factor_of, table_row_of
from certs.rules.agreed_basis import agreed_force
from certs.rules.breaking_force import derive_from_factor, derive_from_table, whole_newtons
from certs.rules.derived import Derived
from certs.rules.rope_match import NoBasis
from inventory.rules.designation import RopeDesignation, parse_designation

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One basis that could be named, with the force it gives; one of the three rows is set."""

    kind: StrengthBasis.Kind
    force: Derived
    factor: ForceFactor | None = None
    tabulated: TabulatedForce | None = None
    agreed: AgreedSpecification | None = None


def suggested_bases(designation: str) -> list[Suggestion]:
    """List what speaks of a rope, the lowest force first.

    The maker's declared value is not among them: it belongs to a reel, not to a designation.
    Raises DesignationError.
    """
    rope = parse_designation(designation)
    found = (*_factors(rope), *_tables(rope), *_agreements(rope))
    return sorted(found, key=lambda one: whole_newtons(one.force))


def _factors(rope: RopeDesignation) -> Iterator[Suggestion]:
    for row in ForceFactor.objects.order_by("id"):
        force = _or_none(derive_from_factor, rope, factor_of(row))
        if force:
            yield Suggestion(StrengthBasis.Kind.FACTOR, force, factor=row)


def _tables(rope: RopeDesignation) -> Iterator[Suggestion]:
    for row in TabulatedForce.objects.order_by("id"):
        force = _or_none(derive_from_table, rope, table_row_of(row))
        if force:
            yield Suggestion(StrengthBasis.Kind.TABLE, force, tabulated=row)


def _agreements(rope: RopeDesignation) -> Iterator[Suggestion]:
    for row in AgreedSpecification.objects.filter(designation=rope.text).order_by("id"):
        # That it gives a force was seen to when it was entered.
        yield Suggestion(StrengthBasis.Kind.AGREED, agreed_force(rope, agreed_of(row)), agreed=row)


def _or_none(
    derive: Callable[[RopeDesignation, Row], Derived], rope: RopeDesignation, row: Row
) -> Derived | None:
    try:
        return derive(rope, row)
    except NoBasis:
        return None
