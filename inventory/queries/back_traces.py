"""What a backward trace says: reels with sign and offset, heats by metre, documents, fittings.

`inventory.queries.trace_back` finds them.
"""

from dataclasses import dataclass

from inventory.models import Assembly, CutPiece, FittingLot, Heat, MillDocument, Party
from inventory.rules.metres import Affine, Stretch


@dataclass(frozen=True, slots=True)
class Ancestor:
    """A reel that the asked rope is or was on, with its metres there.

    `depth` counts the rewinds between; 0 is the asked reel itself. `wound_from_code` is the cut
    piece that this reel was wound from, "" for a reel of the mill.
    """

    reel_id: int
    reel_code: str
    from_mm: int
    to_mm: int
    sign: int
    offset_mm: int
    depth: int
    wound_from_code: str

    def at(self, mm: int) -> int:
        """Return the metre on this reel, in mm, of position `mm` of the asked scale."""
        return Affine(self.sign, self.offset_mm).at(mm)

    def on_asked(self, stretch: Stretch) -> Stretch:
        """Return where a stretch of this reel, of the metres traced, lies on the asked scale."""
        # x = sign * (metre - offset) turns the map round.
        return Affine(self.sign, -self.sign * self.offset_mm).stretch_at(stretch)


@dataclass(frozen=True, slots=True)
class HeatOnStretch:
    """A heat in the asked rope, with the part of it that holds the heat, on reel `reel_code`."""

    heat: Heat
    reel_code: str
    from_mm: int
    to_mm: int

    @property
    def mill(self) -> Party:
        """The mill that cast it."""
        return self.heat.mill


@dataclass(frozen=True, slots=True, kw_only=True)
class RopeTrace:
    """Where rope came from: reels, nearest first; heats by metre; documents of the mill."""

    ancestors: tuple[Ancestor, ...]
    heats: tuple[HeatOnStretch, ...]
    mill_documents: tuple[MillDocument, ...]

    @property
    def mill_reel(self) -> Ancestor:
        """The reel as the mill delivered it."""
        return self.ancestors[-1]


@dataclass(frozen=True, slots=True, kw_only=True)
class BackTrace(RopeTrace):
    """Where a cut piece came from."""

    piece: CutPiece


@dataclass(frozen=True, slots=True, kw_only=True)
class AssemblyTrace:
    """Where the pieces and fittings of an assembly came from, in the order of its pieces."""

    assembly: Assembly
    pieces: tuple[BackTrace, ...]
    fitting_lots: tuple[FittingLot, ...]

    @property
    def heats(self) -> tuple[Heat, ...]:
        """Every heat in it, of rope first and then of fittings, once each."""
        of_rope = [found.heat for piece in self.pieces for found in piece.heats]
        of_fittings = [lot.heat for lot in self.fitting_lots if lot.heat is not None]
        return tuple(dict.fromkeys([*of_rope, *of_fittings]))

    @property
    def mill_documents(self) -> tuple[MillDocument, ...]:
        """Every maker's document behind it, of rope first and then of fittings, once each."""
        of_rope = [paper for piece in self.pieces for paper in piece.mill_documents]
        of_fittings = [lot.document for lot in self.fitting_lots if lot.document is not None]
        return tuple(dict.fromkeys([*of_rope, *of_fittings]))


@dataclass(frozen=True, slots=True)
class PointOnReel:
    """A point, in mm from metre 0 of a reel."""

    reel_code: str
    metre_mm: int
