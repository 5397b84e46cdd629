"""What a sling may carry under one convention: one leg upright, and each band of angles.

It hands force, ends and legs of every piece to the rules; of several pieces the lowest governs.
Whether it may be rated at all is decided by `strength`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from certs.queries.piece_strength import PieceStrength
from certs.queries.specification_rows import leg_factor_rows, published_load_rows
from certs.rules.derived import Derived
from certs.rules.sling_legs import AngleConvention, LegArrangement, LegFactor
from certs.rules.us_rating import us_leg_factors, us_leg_load, us_load
from certs.rules.working_load import (
    PublishedLoad,
    Rating,
    cap_grade,
    published_load,
    working_load,
)
from inventory.rules.refusal import Refusal


@dataclass(frozen=True, slots=True)
class RatedLoad:
    """A working load limit in tonnes for one arrangement of legs in one band of angles."""

    legs: LegFactor
    rating: Rating


@dataclass(frozen=True, slots=True)
class SlingRatings:
    """What one leg may carry upright, and the whole sling in each band of angles."""

    leg: RatedLoad
    loads: tuple[RatedLoad, ...]


def sling_ratings(
    legs: LegArrangement, pieces: Sequence[PieceStrength], *, convention: AngleConvention
) -> SlingRatings:
    """Rate a sling in every band that its convention has.

    Raises Refusal where no leg factor or no American rating is held, and for a US grade name
    under EN 13414-1.
    """
    if convention is AngleConvention.FROM_HORIZONTAL:
        return _american(legs, pieces)
    rows = leg_factor_rows()
    printed = published_load_rows()
    return SlingRatings(
        leg=_european(LegArrangement.ONE_LEG, pieces, rows, printed)[0],
        loads=_european(legs, pieces, rows, printed),
    )


def lowest(loads: Iterable[Derived]) -> Derived:
    """Give the load that is least before rounding."""
    return min(loads, key=lambda load: load.unrounded)


def _american(legs: LegArrangement, pieces: Sequence[PieceStrength]) -> SlingRatings:
    one = lowest(us_leg_load(piece.certified, end=piece.weakest_end) for piece in pieces)
    (upright,) = us_leg_factors(LegArrangement.ONE_LEG)
    return SlingRatings(
        leg=RatedLoad(upright, Rating(one, None)),
        loads=tuple(
            RatedLoad(row, Rating(us_load(one, legs=row), None)) for row in us_leg_factors(legs)
        ),
    )


def _european(
    legs: LegArrangement,
    pieces: Sequence[PieceStrength],
    rows: Sequence[LegFactor],
    printed: Sequence[PublishedLoad],
) -> tuple[RatedLoad, ...]:
    factors = [row for row in rows if row.legs == legs]
    if not factors:
        message = f"No leg factor is held for {legs.value.replace('_', ' ')}."
        raise Refusal(message, field="legs")
    return tuple(
        RatedLoad(
            row,
            Rating(
                lowest(_sling_load(one, row) for one in pieces),
                _printed_load(pieces, row, printed),
            ),
        )
        for row in factors
    )


def _sling_load(one: PieceStrength, legs: LegFactor) -> Derived:
    rated = cap_grade(one.certified, grade=one.rope.grade)
    return working_load(rated, end=one.weakest_end, legs=legs)


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
