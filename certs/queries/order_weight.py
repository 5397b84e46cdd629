"""What the rope of an order weighs, line by line; of pieces, what each weighs by its reel."""

from collections.abc import Iterator
from dataclasses import dataclass

from certs.queries.rope_mass import masses_of, nominal_masses
from certs.rules.derived import Derived, Gap
from certs.rules.rope_weight import rope_weight, total_weight
from inventory.models import CutPiece, Order


@dataclass(frozen=True, slots=True)
class OrderWeight:
    """The weight of each line that has one, their total, and what is missing from it."""

    lines: tuple[Derived, ...]
    total: Derived | None
    gaps: tuple[Gap, ...]


def order_weight(order: Order) -> OrderWeight:
    """Weigh an order by the nominal mass of its ropes, in three queries."""
    lines = list(order.lines.order_by("position"))
    masses = nominal_masses({line.designation for line in lines})
    weights, gaps = [], []
    for line in lines:
        mass = masses[line.designation]
        if isinstance(mass, Gap):
            gaps.append(Gap(f"weight of line {line.position}", mass.reason, mass.source))
            continue
        weights.append(
            rope_weight(
                mass,
                length_mm=line.length_mm,
                quantity=line.quantity,
                named=f"line {line.position}",
            )
        )
    total = total_weight(weights, named="the order") if weights else None
    return OrderWeight(tuple(weights), total, tuple(gaps))


def piece_weights(piece: CutPiece) -> list[Derived | Gap]:
    """Weigh a piece by the basis of its reel and by what the maker declared, or say why not."""
    return list(_weights(piece))


def _weights(piece: CutPiece) -> Iterator[Derived | Gap]:
    for mass in masses_of(piece.reel):
        if isinstance(mass, Gap):
            yield mass
        else:
            yield rope_weight(mass, length_mm=piece.length_mm, named=piece.code)
