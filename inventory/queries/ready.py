"""What of an order is ready to leave: cut or built, not delivered, not under hold."""

from dataclasses import dataclass

from inventory.models import Order
from inventory.queries.held import held_assemblies, held_pieces
from inventory.queries.registers import assemblies_of_order, pieces_of_order


@dataclass(frozen=True, slots=True)
class Ready:
    """Codes of what may leave."""

    piece_codes: tuple[str, ...]
    assembly_codes: tuple[str, ...]


def ready_for(order: Order) -> Ready:
    """Return the goods of an order that may leave, in order of their codes.

    An assembly counts when it was built for the order, or of pieces that were cut for it.
    """
    pieces, held = list(pieces_of_order(order)), held_pieces()
    built = {a.pk: a for a in assemblies_of_order(order)}
    loose: list[str] = []
    for piece in pieces:
        if hasattr(piece, "assembly_tie"):
            assembly = piece.assembly_tie.assembly
            built.setdefault(assembly.pk, assembly)
        elif not hasattr(piece, "delivery_item") and piece.pk not in held:
            loose.append(piece.code)
    held_built = held_assemblies()
    ready = [a for a in built.values() if a.pk not in held_built]
    return Ready(
        piece_codes=tuple(sorted(loose)),
        assembly_codes=tuple(sorted(a.code for a in ready if not hasattr(a, "delivery_item"))),
    )
