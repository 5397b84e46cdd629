"""Everything that was made from what a hold is on: what the hold reaches while it stands."""

from inventory.models import Assembly, CutPiece, FittingLot, Heat, Hold, Reel
from inventory.queries.hold_subject import subject_of
from inventory.queries.trace_forward import (
    Forward,
    forward_from_assembly,
    forward_from_fitting_lot,
    forward_from_heat,
    forward_from_piece,
    forward_from_reel,
)


def reached_by(hold: Hold) -> Forward | None:
    """Return what a hold reaches; None for a testing machine, of which nothing is made."""
    match subject_of(hold):
        case Heat() as heat:
            return forward_from_heat(heat)
        case Reel() as reel:
            return forward_from_reel(reel, from_mm=hold.from_mm, to_mm=hold.to_mm)
        case FittingLot() as lot:
            return forward_from_fitting_lot(lot)
        case CutPiece() as piece:
            return forward_from_piece(piece)
        case Assembly() as assembly:
            return forward_from_assembly(assembly)
    return None
