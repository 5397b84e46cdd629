"""Describes a reel that is wound from a cut piece: the same rope, on a scale of its own."""

from inventory.models import CutPiece, Reel
from inventory.rules.metres import Stretch
from inventory.services import numbering

# What is true of the rope stays true of any length of it.
_OF_THE_ROPE = (
    "designation",
    "diameter_nm",
    "construction",
    "rope_core",
    "grade",
    "finish",
    "lay",
    "assumed_parts",
    "mill",
    "mill_reel_number",
    "mill_document",
    "marked_grade",
    "declared_force_n",
    "declared_mass_g_per_100m",
    "lay_length_um",
    "marking",
)


def wound_reel(piece: CutPiece, stretch: Stretch, *, origin: Reel.Origin, is_turned: bool) -> Reel:
    """A reel, not yet recorded, of this stretch; it takes the next code of a reel.

    Args:
        stretch: in metres of the reel that the piece was cut from.
    """
    return Reel(
        code=numbering.take_code(numbering.REEL),
        origin=origin,
        wound_from=piece,
        origin_from_mm=stretch.from_mm,
        origin_to_mm=stretch.to_mm,
        is_turned=is_turned,
        length_mm=stretch.length_mm,
        **{name: getattr(piece.reel, name) for name in _OF_THE_ROPE},
    )
