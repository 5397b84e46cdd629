"""Reads how an assembly was built off the record, for the rules that speak of building.

The pieces come with their ends, fittings and lots loaded; nothing is judged here.
"""

from collections.abc import Sequence
from decimal import Decimal

from certs.rules.bearing import bearing_finding
from certs.rules.built_sling import BuiltEnd, BuiltLeg, BuiltSling, RatedFitting
from certs.rules.finding import Finding
from certs.rules.grips import grip_finding
from certs.rules.merged_findings import merged
from certs.rules.sling_build import build_findings
from certs.rules.sling_legs import AngleConvention, LegArrangement
from certs.rules.termination import TerminationKind
from inventory.models import Assembly, AssemblyPiece, FittingLot, FittingUse, Termination

NM_PER_MM = 10**6
UM_PER_MM = 1000


def findings_on_build(
    assembly: Assembly,
    ties: Sequence[AssemblyPiece],
    *,
    legs: LegArrangement | None,
    leg_t: Decimal | None,
    lay_mm: Decimal | None,
) -> tuple[Finding, ...]:
    """Compare how it was built with the limits that its rating takes for granted.

    `legs` is None for what is no sling: of that only grips are spoken of. `leg_t` is what one leg
    may carry in tonnes, `lay_mm` one lay as somebody measured it, each None where not known.
    What is alike at several places is told once.
    """
    parts = tuple(_leg(tie) for tie in ties)
    grips = tuple(
        grip_finding(
            place=f"{part.name}, {end.place}", grips=end.grips, diameter_mm=part.diameter_mm
        )
        for part in parts
        for end in part.ends
        if end.kind is TerminationKind.U_BOLT_GRIPS
    )
    if legs is None or not parts:
        return merged(grips)
    sling = BuiltSling(legs, parts, assembly.bend_mm)
    built = build_findings(
        sling, convention=AngleConvention(assembly.convention), leg_t=leg_t, lay_mm=lay_mm
    )
    return merged((*built, bearing_finding(sling), *grips))


def _leg(tie: AssemblyPiece) -> BuiltLeg:
    fitted = sorted(tie.terminations.all(), key=lambda end: end.end != Termination.End.NEAR)
    lay_um = tie.piece.reel.lay_length_um
    return BuiltLeg(
        name=tie.piece.code,
        diameter_mm=Decimal(tie.piece.reel.diameter_nm) / NM_PER_MM,
        length_mm=tie.piece.length_mm,
        clear_mm=tie.clear_mm,
        ends=tuple(_end(end) for end in fitted),
        lay_mm=None if lay_um is None else Decimal(lay_um) / UM_PER_MM,
    )


def _end(end: Termination) -> BuiltEnd:
    uses = list(end.fittings.all())
    return BuiltEnd(
        place=end.get_end_display(),
        kind=TerminationKind(end.kind),
        has_thimble=any(use.lot.kind == FittingLot.Kind.THIMBLE for use in uses),
        eye_mm=end.eye_mm,
        grips=sum(use.quantity for use in uses if use.lot.kind == FittingLot.Kind.GRIP),
        links=tuple(_rated(use) for use in uses if use.lot.kind == FittingLot.Kind.LINK),
    )


def _rated(use: FittingUse) -> RatedFitting:
    return RatedFitting(f"{use.lot.description} ({use.lot.code})", use.lot.rated_kg)
