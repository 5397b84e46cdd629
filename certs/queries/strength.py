"""What an assembly may carry, or what its rope holds with its ends on, piece by piece.

It gathers certified force, ends, legs and how it was built, and hands them to the rules. What
stands in the way of a rating is listed instead of guessed at: then nothing is rated.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from certs.queries.built_slings import findings_on_build
from certs.queries.piece_strength import PieceStrength, piece_strength
from certs.queries.sling_ratings import RatedLoad, SlingRatings, lowest, sling_ratings
from certs.queries.specification_rows import termination_rows
from certs.rules.cautions import cautions_for
from certs.rules.derived import Derived
from certs.rules.end_cautions import cautions_of_ends
from certs.rules.finding import Finding, Verdict, disagreeing
from certs.rules.rope_class import rope_class
from certs.rules.sling_legs import SINGLE_STRAIGHT, AngleConvention, LegArrangement
from certs.rules.termination import AssemblyUse
from certs.rules.working_load import Coefficient, Rating, working_load
from inventory.models import Assembly, AssemblyPiece
from inventory.rules.designation import RopeDesignation
from inventory.rules.refusal import Refusal

__all__ = ["AssemblyStrength", "PieceStrength", "RatedLoad", "assembly_strength", "is_sling"]

LEGS = {
    Assembly.Kind.ONE_LEG: LegArrangement.ONE_LEG,
    Assembly.Kind.TWO_LEG: LegArrangement.TWO_LEGS,
    Assembly.Kind.THREE_LEG: LegArrangement.THREE_LEGS,
    Assembly.Kind.FOUR_LEG: LegArrangement.FOUR_LEGS,
    Assembly.Kind.ENDLESS: LegArrangement.ENDLESS_CHOKE,
}
# From memory of EN 13414-1, not seen: so it is a caution and not a refusal.
SLING_CLASSES = frozenset({"6x19", "6x36", "8x19", "8x36"})
UNUSUAL_ROPE = (
    "{construction} is not of the classes that EN 13414-1 is written for, 6x19, 6x36, 8x19 and 8x36"
    " (from memory, not seen in the standard): a competent person must agree to this rating."
)


@dataclass(frozen=True, slots=True)
class AssemblyStrength:
    """Strength of an assembly. With `problems` nothing is rated: `loads` is empty then.

    `pieces` in the order of the assembly; `loads` is empty also for a rope with ends, which has
    no working load limit unless a coefficient of utilisation is given for its use. `leg` is what
    one leg carries upright, None for what has no rating; `findings` say how it was built.
    """

    assembly: Assembly
    pieces: tuple[PieceStrength, ...]
    loads: tuple[RatedLoad, ...]
    problems: tuple[str, ...]
    cautions: tuple[str, ...]
    leg: RatedLoad | None = None
    findings: tuple[Finding, ...] = field(default=())

    @property
    def convention(self) -> AngleConvention:
        """By whose convention it is rated, and from which line its angles are counted."""
        return AngleConvention(self.assembly.convention)

    @property
    def weakest_piece(self) -> PieceStrength | None:
        """The piece that breaks first; None while anything is missing."""
        if self.problems or not self.pieces:
            return None
        return min(self.pieces, key=lambda piece: piece.force.unrounded)

    @property
    def force(self) -> Derived | None:
        """The minimum breaking force in kN of the weakest piece with its ends."""
        piece = self.weakest_piece
        return piece.force if piece else None

    @property
    def weakest_link(self) -> str:
        """The weakest end of the weakest piece in words; empty while anything is missing."""
        piece = self.weakest_piece
        return f"piece {piece.piece.code}: {piece.weakest_end.text}" if piece else ""

    @property
    def summary(self) -> str:
        """Give the weakest link, and what of its build cannot be said: for whoever issues."""
        open_ones = (one for one in self.findings if one.verdict is Verdict.CANNOT_SAY)
        topics = ", ".join(dict.fromkeys(one.topic.lower() for one in open_ones))
        left = f" Of its build these cannot be said: {topics}." if topics else ""
        return f"Weakest link: {self.weakest_link}.{left}"


def assembly_strength(
    assembly: Assembly,
    *,
    coefficient: Coefficient | None = None,
    lay_mm: Decimal | None = None,
) -> AssemblyStrength:
    """Give the strength of an assembly under its convention, with the efficiencies of EN 13411.

    By American practice those of the US Army manual take their place. `coefficient` is for a rope
    with ends alone: whoever designs its use names it with a source. `lay_mm` is the length of one
    lay as measured, by which soft eyes are judged where none is recorded with the reel.
    """
    ties = _ties(assembly)
    pieces, problems = _pieces(assembly, ties)
    ratings: SlingRatings | None = None
    if pieces and not problems:
        try:
            ratings = _ratings(assembly, pieces, coefficient)
        except Refusal as refusal:
            problems.append(refusal.message)
    findings = findings_on_build(
        assembly,
        ties,
        legs=LEGS.get(Assembly.Kind(assembly.kind)),
        leg_t=ratings.leg.rating.governing_t if ratings else None,
        lay_mm=lay_mm,
    )
    problems += [f"{one.text} ({one.source.text})" for one in disagreeing(findings)]
    rated = None if problems else ratings
    return AssemblyStrength(
        assembly=assembly,
        pieces=tuple(pieces),
        loads=rated.loads if rated else (),
        problems=tuple(problems),
        cautions=_cautions(assembly, pieces),
        leg=rated.leg if rated else None,
        findings=findings,
    )


def is_sling(assembly: Assembly) -> bool:
    """Tell whether an assembly is of a kind that has legs, or is endless: it is made to lift."""
    return assembly.kind in LEGS


def _ties(assembly: Assembly) -> list[AssemblyPiece]:
    ties = assembly.piece_ties.select_related("piece__reel__mill_document")
    return list(ties.prefetch_related("terminations__fittings__lot").order_by("position"))


def _pieces(
    assembly: Assembly, ties: Sequence[AssemblyPiece]
) -> tuple[list[PieceStrength], list[str]]:
    rows = termination_rows()
    pieces: list[PieceStrength] = []
    problems: list[str] = [] if ties else ["The assembly has no pieces."]
    for tie in ties:
        try:
            pieces.append(
                piece_strength(
                    tie,
                    use=_use_of(assembly),
                    convention=AngleConvention(assembly.convention),
                    rows=rows,
                )
            )
        except Refusal as refusal:
            problems.append(f"Piece {tie.piece.code}: {refusal.message}")
    return pieces, problems


def _use_of(assembly: Assembly) -> AssemblyUse:
    """A sling lifts, whatever else was written of it."""
    if is_sling(assembly):
        return AssemblyUse.SLING
    is_static = assembly.use == Assembly.Use.STATIC
    return AssemblyUse.STATIC_SUSPENSION if is_static else AssemblyUse.OTHER


def _ratings(
    assembly: Assembly, pieces: Sequence[PieceStrength], coefficient: Coefficient | None
) -> SlingRatings | None:
    """Rate every band of angles there is; of all pieces the lowest rating governs."""
    legs = LEGS.get(Assembly.Kind(assembly.kind))
    if legs is not None:
        return sling_ratings(legs, pieces, convention=AngleConvention(assembly.convention))
    if coefficient is None:
        return None
    load = lowest(
        working_load(one.certified, end=one.weakest_end, coefficient=coefficient) for one in pieces
    )
    rated = RatedLoad(SINGLE_STRAIGHT, Rating(load, None))
    return SlingRatings(leg=rated, loads=(rated,))


def _cautions(assembly: Assembly, pieces: Sequence[PieceStrength]) -> tuple[str, ...]:
    lifts = is_sling(assembly)
    usual = cautions_for(
        is_sling=lifts,
        is_rope_only=not lifts,
        is_static=assembly.use == Assembly.Use.STATIC,
    )
    by_european_rule = lifts and assembly.convention == Assembly.Convention.FROM_VERTICAL
    others = dict.fromkeys(
        one.rope.construction
        for one in pieces
        if by_european_rule and _class_name(one.rope) not in SLING_CLASSES
    )
    ends = cautions_of_ends(end.kind for one in pieces for end in one.ends)
    return (*(UNUSUAL_ROPE.format(construction=name) for name in others), *ends, *usual)


def _class_name(rope: RopeDesignation) -> str:
    found = rope_class(rope.construction)
    return found.name if found else ""
