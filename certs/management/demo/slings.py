"""Plays the workshop: builds slings and ropes with ends of the reels in stock."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils import timezone

from certs.management.demo.sales import supply
from certs.management.demo.stage import Stage
from inventory.models import Assembly, Termination
from inventory.services.assemble import (
    FittingAsked,
    PieceAsked,
    TerminationAsked,
    build_assembly,
)

EYE = Termination.Kind.FERRULE_SECURED_EYE.value
SPLICE = Termination.Kind.HAND_SPLICE.value
SWAGED = Termination.Kind.SWAGE_TERMINAL.value
SOCKET = Termination.Kind.SOCKET.value
KINDS = Assembly.Kind
LEGS = {KINDS.ONE_LEG: 1, KINDS.TWO_LEG: 2, KINDS.THREE_LEG: 3, KINDS.FOUR_LEG: 4}


@dataclass(frozen=True, slots=True)
class Build:
    """An assembly to build: of a reel, legs of a length in m, and what each end takes."""

    key: str
    kind: str
    reel: str
    length_m: int
    end: str
    fittings: Sequence[str] = ()
    description: str = ""

    @property
    def is_sling(self) -> bool:
        """Tell whether it is built to the sizes of a sling."""
        return self.kind != KINDS.ROPE_WITH_ENDS


# Sizes as the workshop measures them on its own slings; invented, like all of this.
TAKEN_BY_ENDS_MM = 900
SOFT_EYE_MM = 520
HOOK_MM = 45

FIRST = (
    Build("8 mm", KINDS.ONE_LEG, "K-2231", 4, EYE, ["ferrule-8", "thimble-8"]),
    Build("10 mm", KINDS.ONE_LEG, "K-2232", 3, EYE, ["ferrule-10", "thimble-10"]),
    Build("10 mm more", KINDS.ONE_LEG, "K-2232", 3, EYE, ["ferrule-10"]),
    Build("12 mm", KINDS.ONE_LEG, "V-909", 5, EYE, ["ferrule-12"]),
    Build("20 mm spliced", KINDS.ONE_LEG, "TS-78", 8, SPLICE),
    Build("20 mm socketed", KINDS.ROPE_WITH_ENDS, "TS-78", 30, SOCKET, ["socket-20"], "Pendant"),
)
SECOND = (
    Build("13 mm two legs", KINDS.TWO_LEG, "K-2241", 4, EYE, ["ferrule-13"]),
    Build("16 mm four legs", KINDS.FOUR_LEG, "K-2242", 5, EYE, ["ferrule-16", "thimble-16"]),
    Build("half inch", KINDS.ROPE_WITH_ENDS, "V-940", 10, EYE, ["ferrule-half-inch"], "Guy"),
    Build("10 mm of the weak reel", KINDS.ONE_LEG, "K-2233", 6, EYE, ["ferrule-10"]),
    Build("8 mm held", KINDS.ONE_LEG, "K-2310", 4, EYE, ["ferrule-8"]),
)
STAY = Build("stay", KINDS.ROPE_WITH_ENDS, "OR-5501", 3, SWAGED, ["terminal-4"], "Balustrade stay")
SAFETY_WIRE = Build(
    "6 mm stainless", KINDS.ROPE_WITH_ENDS, "OR-5503", 2, EYE, ["ferrule-6"], "Safety rope"
)
STAYS = 8


def build(stage: Stage, asked: Build) -> Assembly:
    """Cut the legs, end both ends of each alike, and build the assembly."""
    fittings = [FittingAsked(stage.lots[key]) for key in asked.fittings]
    ends = [
        TerminationAsked(
            end.value, asked.end, fittings, operator="Press 2", eye_mm=_soft_eye(asked)
        )
        for end in Termination.End
    ]
    pieces = [
        PieceAsked(
            supply(stage, stage.reels[asked.reel], length_m=asked.length_m),
            ends,
            clear_mm=asked.length_m * 1000 - TAKEN_BY_ENDS_MM if asked.is_sling else None,
        )
        for _ in range(LEGS.get(KINDS(asked.kind), 1))
    ]
    at = stage.calendar.moment()
    stage.assemblies[asked.key] = build_assembly(
        kind=asked.kind,
        pieces=pieces,
        description=asked.description,
        market_date=timezone.localdate(at) if asked.is_sling else None,
        bend_mm=HOOK_MM if asked.is_sling else None,
        by=stage.people["bench"],
        at=at,
    )
    return stage.assemblies[asked.key]


def _soft_eye(asked: Build) -> int | None:
    """Give the way round an eye without a thimble."""
    has_thimble = any(key.startswith("thimble") for key in asked.fittings)
    return SOFT_EYE_MM if asked.is_sling and not has_thimble else None


def build_stays(stage: Stage) -> None:
    """Build a row of balustrade stays, all alike."""
    for number in range(1, STAYS + 1):
        stage.assemblies[f"stay {number}"] = build(stage, STAY)
