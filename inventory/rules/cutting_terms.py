"""What a cutting plan is made of: what is asked for, what is free to cut, and what is proposed.

The plan is found by `inventory.rules.cutting_plan`; whether cuts fit is told, without a search, by
`inventory.rules.cutting_check`.
"""

from dataclasses import dataclass
from enum import StrEnum

from inventory.rules.metres import Stretch
from inventory.rules.refusal import Refusal


class Together(StrEnum):
    """What a customer wants the pieces of one line to share."""

    NOT_ASKED = "not_asked"
    ONE_HEAT = "one_heat"
    ONE_REEL = "one_reel"


@dataclass(frozen=True, slots=True, kw_only=True)
class CutDemand:
    """What of an order line is still to be cut, at its nominal length.

    Each of `quantity` lengths is in one piece if `is_one_length`; otherwise any pieces serve that
    together measure `total_mm`. `bound_reel` and `bound_heats` say what earlier pieces of the line
    were cut from, where the rest must be the same: "" and None while nothing was cut.
    """

    line: str
    designation: str
    length_mm: int
    quantity: int
    is_one_length: bool = True
    together: Together = Together.NOT_ASKED
    bound_reel: str = ""
    bound_heats: frozenset[int] | None = None

    def __post_init__(self) -> None:
        """Refuse a demand for nothing."""
        if self.length_mm <= 0 or self.quantity <= 0:
            message = f"Line {self.line} asks for nothing that could be cut."
            raise Refusal(message, field="length_mm")

    @property
    def total_mm(self) -> int:
        """All lengths together."""
        return self.length_mm * self.quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeStretch:
    """Metres of a reel that may be cut, from the end that comes off first.

    `received` sorts reels by age, the oldest lowest. `heats` is the set of heats that every metre
    of it holds; None where they change along it or are not known, so that no statement about the
    heats of a piece can be made before it is cut. `is_last_resort`: take it only when the rest of
    the stock cannot serve the order.
    """

    reel: str
    designation: str
    stretch: Stretch
    received: int
    heats: frozenset[int] | None = None
    is_last_resort: bool = False


@dataclass(frozen=True, slots=True)
class PlannedCut:
    """A piece to be cut for a line of an order."""

    line: str
    reel: str
    stretch: Stretch


@dataclass(frozen=True, slots=True)
class Remnant:
    """What a plan leaves of a stretch that it cuts from."""

    reel: str
    stretch: Stretch
    is_usable: bool


@dataclass(frozen=True, slots=True)
class UnmetDemand:
    """What of a line the plan does not cut, and why; `pieces` is 0 for a line in any lengths."""

    line: str
    missing_mm: int
    pieces: int
    reason: str


@dataclass(frozen=True, slots=True)
class PlanScore:
    """What plans are compared by, the first that differs deciding; the least is the best.

    `unusable_mm` counts every stretch of the stock offered that the plan leaves shorter than the
    shortest usable length, those it does not touch too: to use one up is a gain.
    """

    unmet_mm: int
    unusable_mm: int
    reels: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """Cuts in the order in which to make them, and what they leave.

    `bound` is what no plan can be better than; `is_proved_best` says that this one is as good.
    """

    cuts: tuple[PlannedCut, ...]
    remnants: tuple[Remnant, ...]
    unmet: tuple[UnmetDemand, ...]
    score: PlanScore
    bound: PlanScore
    is_proved_best: bool
    shortest_usable_mm: int

    @property
    def reels(self) -> tuple[str, ...]:
        """The reels it cuts from, each once, in the order of the cuts."""
        return tuple(dict.fromkeys(cut.reel for cut in self.cuts))

    @property
    def unusable_left_mm(self) -> int:
        """The length of the unusable remnants that its own cuts leave."""
        return sum(left.stretch.length_mm for left in self.remnants if not left.is_usable)
