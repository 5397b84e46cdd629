"""What is known of a sling as it was built, in the words that rules of building ask for.

What may be said of it is decided by `sling_build`, `bearing` and `grips`.
"""

from dataclasses import dataclass
from decimal import Decimal

from certs.rules.sling_legs import LegArrangement
from certs.rules.termination import TerminationKind

EYES = frozenset({TerminationKind.FERRULE_SECURED_EYE, TerminationKind.HAND_SPLICE})


@dataclass(frozen=True, slots=True)
class RatedFitting:
    """A link or hook at an end; `rated_kg` as marked by its maker, None where it has no mark."""

    name: str
    rated_kg: int | None


@dataclass(frozen=True, slots=True)
class BuiltEnd:
    """One end of a leg; `eye_mm` is the way all round a soft eye, None where not measured."""

    place: str
    kind: TerminationKind
    has_thimble: bool = False
    eye_mm: int | None = None
    grips: int = 0
    links: tuple[RatedFitting, ...] = ()

    @property
    def has_soft_eye(self) -> bool:
        """Say whether the rope itself bears on the pin: an eye without a thimble."""
        return self.kind in EYES and not self.has_thimble


@dataclass(frozen=True, slots=True)
class BuiltLeg:
    """One piece of rope in it, lengths in mm.

    `length_mm` is that of the cut piece; `clear_mm` the plain rope between ferrules or tails of
    splices, None where not measured; `lay_mm` the lay length recorded with its rope, None where
    its maker states none.
    """

    name: str
    diameter_mm: Decimal
    length_mm: int
    clear_mm: int | None
    ends: tuple[BuiltEnd, ...]
    lay_mm: Decimal | None = None


@dataclass(frozen=True, slots=True)
class BuiltSling:
    """A sling: its legs, and in mm the thinnest pin or twice the sharpest edge it meets."""

    legs: LegArrangement
    parts: tuple[BuiltLeg, ...]
    bend_mm: int | None = None

    @property
    def is_endless(self) -> bool:
        """Say whether it has no legs and no eyes: its ends are joined to each other."""
        return self.legs is LegArrangement.ENDLESS_CHOKE

    @property
    def has_soft_eye(self) -> bool:
        """Say whether any eye has no thimble."""
        return not self.is_endless and any(
            end.has_soft_eye for leg in self.parts for end in leg.ends
        )
