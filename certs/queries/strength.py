"""What an assembly may carry, or what its rope holds with its ends on, piece by piece.

It gathers certified force, ends and legs and hands them to the rules. What stands in the way of a
rating is listed instead of guessed at: then nothing is rated.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from certs.queries.piece_strength import PieceStrength, piece_strength
from certs.queries.specification_rows import (
    leg_factor_rows,
    published_load_rows,
    termination_rows,
)
from certs.rules.cautions import cautions_for
from certs.rules.derived import Derived
from certs.rules.rope_class import rope_class
from certs.rules.sling_legs import SINGLE_STRAIGHT, LegArrangement, LegFactor
from certs.rules.termination import AssemblyUse
from certs.rules.working_load import (
    Coefficient,
    PublishedLoad,
    Rating,
    cap_grade,
    published_load,
    working_load,
)
from inventory.models import Assembly, AssemblyPiece
from inventory.rules.designation import RopeDesignation
from inventory.rules.refusal import Refusal

__all__ = ["AssemblyStrength", "PieceStrength", "RatedLoad", "assembly_strength"]

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
class RatedLoad:
    """A working load limit in tonnes for one arrangement of legs in one band of angles."""

    legs: LegFactor
    rating: Rating


@dataclass(frozen=True, slots=True)
class AssemblyStrength:
    """Strength of an assembly. With `problems` nothing is rated: `loads` is empty then.

    `pieces` in the order of the assembly; `loads` is empty also for a rope with ends, which has
    no working load limit unless a coefficient of utilisation is given for its use.
    """

    assembly: Assembly
    pieces: tuple[PieceStrength, ...]
    loads: tuple[RatedLoad, ...]
    problems: tuple[str, ...]
    cautions: tuple[str, ...]

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


def assembly_strength(
    assembly: Assembly, *, coefficient: Coefficient | None = None
) -> AssemblyStrength:
    """Give the strength of an assembly under EN 13414-1 and EN 13411.

    `coefficient` is for a rope with ends alone: whoever designs its use names it with a source.
    """
    is_sling = assembly.kind in LEGS
    use = AssemblyUse.SLING if is_sling else AssemblyUse.OTHER
    rows = termination_rows()
    pieces: list[PieceStrength] = []
    problems: list[str] = []
    for tie in _ties(assembly):
        try:
            pieces.append(piece_strength(tie, use=use, rows=rows))
        except Refusal as refusal:
            problems.append(f"Piece {tie.piece.code}: {refusal.message}")
    loads: tuple[RatedLoad, ...] = ()
    if pieces and not problems:
        try:
            loads = _loads(assembly, pieces, coefficient)
        except Refusal as refusal:
            problems.append(refusal.message)
    if not pieces and not problems:
        problems.append("The assembly has no pieces.")
    return AssemblyStrength(
        assembly=assembly,
        pieces=tuple(pieces),
        loads=loads,
        problems=tuple(problems),
        cautions=_cautions(pieces, is_sling=is_sling),
    )


def _ties(assembly: Assembly) -> Iterable[AssemblyPiece]:
    ties = assembly.piece_ties.select_related("piece__reel__mill_document")
    return ties.prefetch_related("terminations").order_by("position")


def _loads(
    assembly: Assembly, pieces: Sequence[PieceStrength], coefficient: Coefficient | None
) -> tuple[RatedLoad, ...]:
    """Rate every band of angles the table has; of all pieces the lowest rating governs."""
    legs = LEGS.get(Assembly.Kind(assembly.kind))
    if legs is None:
        if coefficient is None:
            return ()
        loads = [
            working_load(one.certified, end=one.weakest_end, coefficient=coefficient)
            for one in pieces
        ]
        return (RatedLoad(SINGLE_STRAIGHT, Rating(_lowest(loads), None)),)
    factors = [row for row in leg_factor_rows() if row.legs == legs]
    if not factors:
        message = f"No leg factor is held for {legs.value.replace('_', ' ')}."
        raise Refusal(message, field="legs")
    printed = published_load_rows()
    return tuple(
        RatedLoad(
            row,
            Rating(
                _lowest(_sling_load(one, row) for one in pieces),
                _printed_load(pieces, row, printed),
            ),
        )
        for row in factors
    )


def _sling_load(one: PieceStrength, legs: LegFactor) -> Derived:
    rated = cap_grade(one.certified, grade=one.rope.grade)
    return working_load(rated, end=one.weakest_end, legs=legs)


def _lowest(loads: Iterable[Derived]) -> Derived:
    return min(loads, key=lambda load: load.unrounded)


def _printed_load(
    pieces: Sequence[PieceStrength], legs: LegFactor, rows: Sequence[PublishedLoad]
) -> PublishedLoad | None:
    """Give the lowest printed value, where the table speaks of every piece."""
    printed = [
        published_load(one.rope, ends=frozenset(end.kind for end in one.ends), legs=legs, rows=rows)
        for one in pieces
    ]
    known = [load for load in printed if load is not None]
    return min(known, key=lambda load: load.wll_t) if len(known) == len(printed) else None


def _cautions(pieces: Sequence[PieceStrength], *, is_sling: bool) -> tuple[str, ...]:
    usual = cautions_for(is_sling=is_sling, is_rope_only=not is_sling)
    others = dict.fromkeys(
        one.rope.construction
        for one in pieces
        if is_sling and _class_name(one.rope) not in SLING_CLASSES
    )
    return (*(UNUSUAL_ROPE.format(construction=name) for name in others), *usual)


def _class_name(rope: RopeDesignation) -> str:
    found = rope_class(rope.construction)
    return found.name if found else ""
