"""How strong one piece of an assembly is with its ends on.

It gathers the certified force of the rope and the efficiency of each end; a rating of the whole
assembly is made by `strength`.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from certs.queries.derivation import certified_force
from certs.rules.derived import Derived, Gap
from certs.rules.ended_rope import ended_force
from certs.rules.sling_legs import AngleConvention
from certs.rules.termination import (
    AssemblyUse,
    Efficiency,
    TerminationKind,
    TerminationRow,
    check_use,
    efficiency,
    weakest,
)
from certs.rules.us_rating import EFFICIENCIES
from inventory.models import AssemblyPiece, CutPiece, Termination
from inventory.rules.designation import RopeDesignation, parse_designation
from inventory.rules.refusal import Refusal

STANDARDS = {
    TerminationKind.FERRULE_SECURED_EYE: "EN 13411-3",
    TerminationKind.HAND_SPLICE: "EN 13411-2",
    TerminationKind.SOCKET: "EN 13411-4",
    TerminationKind.SWAGE_TERMINAL: "EN 13411-8",
    TerminationKind.WEDGE_SOCKET: "EN 13411-6",
    TerminationKind.U_BOLT_GRIPS: "EN 13411-5",
}


@dataclass(frozen=True, slots=True)
class PieceStrength:
    """One piece: its certified force, the efficiency of each end, and both together in kN."""

    piece: CutPiece
    rope: RopeDesignation
    certified: Derived
    ends: tuple[Efficiency, ...]
    force: Derived

    @property
    def weakest_end(self) -> Efficiency:
        """The end that keeps least of the rope's strength."""
        return weakest(self.ends)


def piece_strength(
    tie: AssemblyPiece,
    *,
    use: AssemblyUse,
    convention: AngleConvention,
    rows: Sequence[TerminationRow],
) -> PieceStrength:
    """Give the strength of a piece, the near end first, with the efficiencies of its convention.

    Raises Refusal (NoBasis, TerminationRefused) with what is missing or not allowed.
    """
    rope = parse_designation(tie.piece.reel.designation)
    fitted = sorted(tie.terminations.all(), key=lambda end: end.end != Termination.End.NEAR)
    if not fitted:
        message = "No termination is on record, so no part of its strength can be told to remain."
        raise Refusal(message, field="termination")
    ends = tuple(_end(end, rope=rope, use=use, convention=convention, rows=rows) for end in fitted)
    certified = certified_force(tie.piece.reel)
    return PieceStrength(
        piece=tie.piece,
        rope=rope,
        certified=certified,
        ends=ends,
        force=ended_force(certified, end=weakest(ends)),
    )


def _end(
    fitted: Termination,
    *,
    rope: RopeDesignation,
    use: AssemblyUse,
    convention: AngleConvention,
    rows: Sequence[TerminationRow],
) -> Efficiency:
    """Where an end may be used is said by EN 13411 alone, whoever's efficiency is taken."""
    kind = TerminationKind(fitted.kind)
    check_use(
        kind,
        use=use,
        standard=STANDARDS[kind],
        diameter_mm=rope.diameter_mm,
        is_stranded=rope.is_stranded,
    )
    is_american = convention is AngleConvention.FROM_HORIZONTAL
    found = efficiency(
        kind,
        standard=EFFICIENCIES if is_american else STANDARDS[kind],
        core=rope.core,
        diameter_mm=rope.diameter_mm,
        rows=rows,
    )
    if isinstance(found, Gap):
        raise Refusal(found.reason, field="termination")
    return Efficiency(
        found.kind,
        found.name,
        found.kt,
        found.printed,
        found.source,
        place=fitted.get_end_display(),
    )
