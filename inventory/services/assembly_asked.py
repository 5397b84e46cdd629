"""Words in which an assembly is asked for: pieces, what is fitted to their ends, of which lots."""

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.models import CutPiece, FittingLot


@dataclass(frozen=True, slots=True)
class FittingAsked:
    """Fittings of one lot for one termination."""

    lot: FittingLot
    quantity: int = 1


@dataclass(frozen=True, slots=True)
class TerminationAsked:
    """What is fitted to one end; `end` and `kind` are values of `Termination.End` and `.Kind`.

    `eye_mm` is the way all round a soft eye; None where there is none, or it is not measured.
    """

    end: str
    kind: str
    fittings: Sequence[FittingAsked] = ()
    operator: str = ""
    note: str = ""
    eye_mm: int | None = None


@dataclass(frozen=True, slots=True)
class PieceAsked:
    """A cut piece with the terminations of its ends.

    `clear_mm` is the plain rope between ferrules or tails of splices; None where not measured.
    """

    piece: CutPiece
    terminations: Sequence[TerminationAsked] = ()
    clear_mm: int | None = None
