"""Gathers what is known of a received reel and has the rules compare it with its specification.

It decides which row or basis a value is held against; what agrees is decided by the rules. The
checks that were made are read by `receiving_checks`.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from certs.models import AgreedSpecification, ForceFactor, ReceivingCheck, StrengthBasis
from certs.queries.derivation import NoBasis, force_on_basis, length_mass, named_basis
from certs.queries.derive_designation import factor_mass
from certs.queries.specification_rows import (
    agreed_of,
    factor_of,
    grade_name_rows,
    steel_limit_rows,
    tolerance_rows,
)
from certs.rules.agreed_basis import agreed_diameter, agreed_mass, agreed_mass_limits
from certs.rules.breaking_force import QUANTITY as FORCE
from certs.rules.breaking_force import declared
from certs.rules.derived import Derived, Gap
from certs.rules.finding import Finding
from certs.rules.ladle_analysis import HeatAnalysis, analysis_findings
from certs.rules.length_mass import QUANTITY as MASS
from certs.rules.mass_unit import declared_mass
from certs.rules.measured_diameter import Readings, diameter_finding, difference_finding
from certs.rules.mill_reel_number import reel_number_finding
from certs.rules.received_force import NOT_NAMED, force_finding
from certs.rules.received_force import TOPIC as FORCE_TOPIC
from certs.rules.received_grade import SteelKind, mark_finding, usual_finding
from certs.rules.received_mass import DECLARED_TOPIC, WEIGHED_TOPIC, mass_finding, weighed_mass
from certs.rules.rope_match import fitting_factors
from certs.rules.steel_limits import is_stainless
from certs.rules.tolerance import DIAMETER, DiameterLimits, diameter_limits
from certs.rules.zinc_class import zinc_finding
from inventory.models import Heat, Reel
from inventory.rules.designation import RopeDesignation, parse_designation

NO_STANDARD = "No standard is named, so no limits of the diameter apply: name one and check again."


@dataclass(frozen=True, slots=True)
class Measured:
    """What a person found at goods in; what he did not look at is None or "".

    `standard` is one whose diameter limits are held; `agreed` is for this rope. Weighed mass and
    length are given together, in g and mm; `zinc_class` is as the mill document states it.
    """

    standard: str = ""
    agreed: AgreedSpecification | None = None
    readings: Readings | None = None
    weighed_length_mm: int | None = None
    weighed_mass_g: int | None = None
    zinc_class: str = ""
    note: str = ""
    # What was typed in another unit than the record's, by the field of the check.
    as_given: Mapping[str, str] = field(default_factory=dict)


def standards_held() -> tuple[str, ...]:
    """List the standards whose limits of the diameter are held."""
    rows = tolerance_rows()
    return tuple(dict.fromkeys(row.standard for row in rows if row.max_percent is not None))


def findings_of(reel: Reel, measured: Measured) -> list[Finding]:
    """Compare a mill's reel, as recorded and measured, with its specification, point by point."""
    return findings_with(reel, measured, heats=_heats(reel))


def findings_with(reel: Reel, measured: Measured, *, heats: Sequence[Heat]) -> list[Finding]:
    """Compare a reel that has these heats; neither it nor they need be on record yet."""
    rope = parse_designation(reel.designation)
    limits = _limits(rope, measured)
    return [
        reel_number_finding(reel.mill_reel_number, _received_before(reel)),
        diameter_finding(measured.readings, limits),
        difference_finding(measured.readings, limits),
        *_masses(reel, rope, measured),
        force_finding(_declared_force(reel), _basis_force(reel)),
        *_steel(reel, measured, heats),
    ]


def can_compare_force(check: ReceivingCheck) -> bool:
    """Say whether a basis now lets the declared force be compared, and the check had none yet."""
    lacked = any(
        one["topic"] == FORCE_TOPIC and one["source"]["name"] == NOT_NAMED.name
        for one in check.findings
    )
    forces = (_declared_force(check.reel), _basis_force(check.reel)) if lacked else ()
    return lacked and all(isinstance(force, Derived) for force in forces)


def _received_before(reel: Reel) -> list[str]:
    """List the reels of the same mill that were received with this reel's number before it."""
    same = Reel.objects.filter(
        mill_id=reel.mill_id, mill_reel_number=reel.mill_reel_number, origin=Reel.Origin.MILL
    )
    if reel.pk is not None:
        same = same.filter(pk__lt=reel.pk)
    return list(same.order_by("id").values_list("code", flat=True))


def _limits(rope: RopeDesignation, measured: Measured) -> DiameterLimits | Gap:
    agreed = agreed_diameter(rope, agreed_of(measured.agreed)) if measured.agreed else None
    if agreed is not None:
        return agreed
    if not measured.standard:
        return Gap(DIAMETER, NO_STANDARD)
    return diameter_limits(rope, standard=measured.standard, rows=tolerance_rows())


def _masses(reel: Reel, rope: RopeDesignation, measured: Measured) -> Iterator[Finding]:
    expected = _expected_mass(reel, rope, measured)
    limits = agreed_mass_limits(agreed_of(measured.agreed)) if measured.agreed else None
    weighed: Derived | Gap = Gap(MASS, "No length was weighed.")
    if measured.weighed_length_mm and measured.weighed_mass_g:
        weighed = weighed_mass(length_mm=measured.weighed_length_mm, mass_g=measured.weighed_mass_g)
    yield mass_finding(weighed, expected, topic=WEIGHED_TOPIC, limits=limits)
    stated: Derived | Gap = Gap(MASS, "The maker declared no mass.")
    if reel.declared_mass_g_per_100m is not None:
        stated = declared_mass(
            g_per_100m=reel.declared_mass_g_per_100m, document=_document_of(reel)
        )
    yield mass_finding(stated, expected, topic=DECLARED_TOPIC, limits=limits)


def _expected_mass(reel: Reel, rope: RopeDesignation, measured: Measured) -> Derived | Gap:
    """Give the mass agreed on, else that of the basis named, else that of the rope's class."""
    agreed = agreed_mass(rope, agreed_of(measured.agreed)) if measured.agreed else None
    if agreed is not None:
        return agreed
    basis = _basis(reel)
    # A declared mass is what is to be compared, and so nothing to compare it with.
    if basis is not None and basis.kind != StrengthBasis.Kind.DECLARED:
        found = length_mass(reel)
        if isinstance(found, Derived):
            return found
    factors = [factor_of(row) for row in ForceFactor.objects.order_by("id")]
    fitting = [factor for factor in fitting_factors(rope, factors) if factor.W is not None]
    if not fitting:
        return Gap(MASS, f"No mass factor W is held for {rope.text}: agree on one with the maker.")
    return factor_mass(rope, fitting[0])


def _declared_force(reel: Reel) -> Derived | Gap:
    if reel.declared_force_n is None:
        return Gap(FORCE, "The maker declared no breaking force.")
    return declared(force_n=reel.declared_force_n, document=_document_of(reel))


def _basis(reel: Reel) -> StrengthBasis | None:
    """Give the basis that was named; for a reel that is not on record yet nobody can have."""
    return named_basis(reel) if reel.pk else None


def _basis_force(reel: Reel) -> Derived | Gap:
    basis = _basis(reel)
    if basis is None:
        return Gap(FORCE, "No basis of strength is named yet: check again when one is.")
    if basis.kind == StrengthBasis.Kind.DECLARED:
        return Gap(FORCE, "The basis named is the declared force itself.")
    try:
        return force_on_basis(reel, basis)
    except NoBasis as problem:
        return Gap(FORCE, problem.message)


def _steel(reel: Reel, measured: Measured, heats: Sequence[Heat]) -> Iterator[Finding]:
    """Compare what says of which steel the rope is: mark, finish, zinc, and each heat once."""
    rows = steel_limit_rows()
    yield mark_finding(designated=reel.grade, marked=reel.marked_grade, names=grade_name_rows())
    yield usual_finding(
        grade=reel.grade,
        finish=reel.finish,
        steels=[
            SteelKind(
                heat.number, heat.steel_name, is_stainless(heat.steel_name, heat.analysis, rows)
            )
            for heat in heats
        ],
    )
    yield zinc_finding(
        finish=reel.finish,
        zinc_class=measured.zinc_class,
        is_assumed="finish" in reel.assumed_parts,
    )
    for heat in heats:
        one = HeatAnalysis(heat.number, heat.steel_name, heat.analysis)
        yield from analysis_findings(one, rows)


def _heats(reel: Reel) -> Sequence[Heat]:
    ties = reel.heat_ties.select_related("heat").order_by("id")
    return list(dict.fromkeys(tie.heat for tie in ties))


def _document_of(reel: Reel) -> str:
    document = reel.mill_document
    if document is not None:
        return f"mill document {document.number}"
    return f"the marking of reel {reel.code}" if reel.code else "the marking of the reel"
