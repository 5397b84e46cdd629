"""The strength, mass and diameter limits of a reel, on the basis that a person has named for it.

The certified force is the lowest of the basis, the maker's declared value and a failed test on
rope of the same mill reel. What a designation alone gives is decided by `derive_designation`.
"""

from dataclasses import replace

from certs.models import StrengthBasis
from certs.queries.derive_designation import (
    Derivation,
    TablesNotLoaded,
    UnknownCombination,
    derive,
    factor_mass,
    standard_diameter,
    table_mass,
)
from certs.queries.rope_tests import RopeTest, tests_on_rope
from certs.queries.specification_rows import agreed_of, factor_of, table_row_of
from certs.queries.suggestions import Suggestion, suggested_bases
from certs.rules.agreed_basis import agreed_diameter, agreed_force, agreed_mass
from certs.rules.breaking_force import (
    certified_breaking_force,
    declared,
    derive_from_factor,
    derive_from_table,
)
from certs.rules.derived import Derived, Gap
from certs.rules.length_mass import QUANTITY as MASS
from certs.rules.mass_unit import declared_mass
from certs.rules.rope_match import NoBasis
from certs.rules.tolerance import DiameterLimits, limits_from_table
from inventory.models import Reel
from inventory.queries.trace_back import trace_back
from inventory.rules.designation import parse_designation
from inventory.rules.units import format_kn

__all__ = [
    "Derivation",
    "NoBasis",
    "Suggestion",
    "TablesNotLoaded",
    "UnknownCombination",
    "certified_force",
    "derive",
    "diameter_limits",
    "force_on_basis",
    "length_mass",
    "named_basis",
    "required_force",
    "suggested_bases",
]


def named_basis(reel: Reel) -> StrengthBasis | None:
    """Give the basis that stands for a reel: the last one named for it.

    A reel wound here for which none was named has that of the reel it was wound from.
    """
    return _named_basis(_lineage(reel))


def required_force(reel: Reel) -> Derived:
    """Give the force in kN that a sample must reach: the lower of basis and declared value.

    Raises NoBasis, as `certified_force` does.
    """
    lineage = _lineage(reel)
    basis = _force_on(lineage, _required_basis(lineage))
    return certified_breaking_force(basis=basis, declared_n=_declared_n(lineage))


def force_on_basis(reel: Reel, basis: StrengthBasis) -> Derived:
    """Give the force that one basis gives for a reel, before anything lowers it. Raises NoBasis."""
    return _force_on(_lineage(reel), basis)


def certified_force(reel: Reel) -> Derived:
    """Give the certified minimum breaking force of a reel's rope in kN, with all it rests on.

    Raises NoBasis where none is named, or where the named one gives no number; the text says
    what may be named.
    """
    lineage = _lineage(reel)
    basis = _force_on(lineage, _required_basis(lineage))
    declared_n = _declared_n(lineage)
    failed = [tested for tested in tests_on_rope(reel) if tested.has_failed]
    if not failed:
        return certified_breaking_force(basis=basis, declared_n=declared_n)
    lowest = min(failed, key=lambda tested: tested.test.peak_n).test
    certified = certified_breaking_force(
        basis=basis,
        declared_n=declared_n,
        derated_n=lowest.peak_n,
        derating_test=lowest.code,
    )
    remarks = (*certified.remarks, *(_failure_text(tested) for tested in failed))
    return replace(certified, remarks=remarks)


def length_mass(reel: Reel) -> Derived | Gap:
    """Give the mass in kg per 100 m on the reel's basis, or a gap. Raises NoBasis."""
    lineage = _lineage(reel)
    basis, rope = _required_basis(lineage), parse_designation(reel.designation)
    if basis.factor:
        return factor_mass(rope, factor_of(basis.factor))
    if basis.tabulated:
        return table_mass(rope, table_row_of(basis.tabulated))
    if basis.agreed:
        agreed = agreed_mass(rope, agreed_of(basis.agreed))
        return agreed or Gap(MASS, f"{basis.agreed} gives no mass factor: weigh a length.")
    return _declared_mass(lineage)


def diameter_limits(reel: Reel) -> DiameterLimits | Gap:
    """Give the limits of the measured diameter on the reel's basis, or a gap. Raises NoBasis.

    Without limits of its own, an agreed or declared basis has those of EN 12385-4.
    """
    basis, rope = _required_basis(_lineage(reel)), parse_designation(reel.designation)
    if basis.tabulated:
        return limits_from_table(rope, table_row_of(basis.tabulated))
    agreed = agreed_diameter(rope, agreed_of(basis.agreed)) if basis.agreed else None
    return agreed or standard_diameter(rope)


def _lineage(reel: Reel) -> list[Reel]:
    """List the reel and those it was wound from, nearest first, the mill's reel last."""
    ids = [one.reel_id for one in trace_back(reel_id=reel.pk, from_mm=0, to_mm=reel.length_mm)]
    by_id = Reel.objects.select_related("mill_document").in_bulk(ids)
    return [by_id[reel_id] for reel_id in ids]


def _named_basis(lineage: list[Reel]) -> StrengthBasis | None:
    named = StrengthBasis.objects.filter(reel__in=lineage)
    rows = named.select_related("factor", "tabulated", "agreed").order_by("id")
    latest = {basis.reel_id: basis for basis in rows}
    return next((latest[reel.pk] for reel in lineage if reel.pk in latest), None)


def _required_basis(lineage: list[Reel]) -> StrengthBasis:
    basis = _named_basis(lineage)
    if basis is not None:
        return basis
    reel = lineage[0]
    text = f"No basis of strength is named for reel {reel.code}, so no force can be certified."
    found = suggested_bases(reel.designation)
    if not found:
        text += " No table held speaks of it: name the maker's declared value, or agree on one."
        raise NoBasis(text, field="basis")
    listed = "; ".join(f"{one.force.text} by {one.force.basis}" for one in found)
    message = f"{text} Name one; held are: {listed}."
    raise NoBasis(message, field="basis")


def _force_on(lineage: list[Reel], basis: StrengthBasis) -> Derived:
    rope = parse_designation(lineage[0].designation)
    if basis.factor:
        return derive_from_factor(rope, factor_of(basis.factor))
    if basis.tabulated:
        return derive_from_table(rope, table_row_of(basis.tabulated))
    if basis.agreed:
        if parse_designation(basis.agreed.designation) != rope:
            message = f"{basis.agreed} is for {basis.agreed.designation}, the reel is {rope.text}."
            raise NoBasis(message, field="agreed")
        return agreed_force(rope, agreed_of(basis.agreed))
    return _declared_force(lineage)


def _declared_force(lineage: list[Reel]) -> Derived:
    reel = next((one for one in lineage if one.declared_force_n is not None), None)
    if reel is None or reel.declared_force_n is None:
        message = (
            f"The maker declared no breaking force for reel {lineage[0].code}: name another basis."
        )
        raise NoBasis(message, field="basis")
    return declared(force_n=reel.declared_force_n, document=_document(reel))


def _declared_n(lineage: list[Reel]) -> int | None:
    forces = (one.declared_force_n for one in lineage if one.declared_force_n is not None)
    return min(forces, default=None)


def _declared_mass(lineage: list[Reel]) -> Derived | Gap:
    for one in lineage:
        if one.declared_mass_g_per_100m is not None:
            return declared_mass(g_per_100m=one.declared_mass_g_per_100m, document=_document(one))
    return Gap(MASS, "The maker declared no mass: weigh a length.")


def _document(reel: Reel) -> str:
    document = reel.mill_document
    return f"mill document {document.number}" if document else f"the marking of reel {reel.code}"


def _failure_text(tested: RopeTest) -> str:
    test = tested.test
    text = (
        f"Breaking test {test.code} on sample {test.sample.code} failed at "
        f"{format_kn(test.peak_n)}, {format_kn(test.required_n)} required."
    )
    if not tested.doubts:
        return text
    return f"{text} It counts, to be safe, although it is in doubt: {' '.join(tested.doubts)}"
