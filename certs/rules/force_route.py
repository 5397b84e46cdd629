"""Where a rope stands on the way from its wires to an actual break, and what is asked next.

ISO 10425:2003 5.1.4: a force calculated from wires that falls short is settled by an actual test
(method 1); if that fails the rope is de-rated. The de-rating itself is `breaking_force`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Final

from inventory.rules.canonical import JsonValue
from inventory.rules.units import format_kn

RULE: Final = "ISO 10425:2003 (API Spec 9A) 5.1.4, as read"
MEETS, FALLS_SHORT = "meets", "falls_short"


class Standing(StrEnum):
    """What the record shows of the breaking force."""

    NOTHING = "nothing"
    OPEN = "open"
    CALCULATED = "calculated"
    BREAK_A_SAMPLE = "break_a_sample"
    PROVED = "proved"
    DERATED = "derated"


@dataclass(frozen=True, slots=True)
class CalculatedForce:
    """A force calculated from wires: by method 2 or 3, with its outcome; forces in N.

    `counts` is False for a test on a machine in doubt: it proves nothing, and still warns.
    """

    test: str
    method: int
    outcome: str
    tested_at: datetime
    required_n: int
    calculated_n: int | None
    counts: bool = True


@dataclass(frozen=True, slots=True)
class ActualForce:
    """An actual break that says something: it met its force beyond doubt, or it failed."""

    test: str
    is_met: bool
    tested_at: datetime
    peak_n: int


@dataclass(frozen=True, slots=True)
class Route:
    """The standing, the methods that were used, in words, and what is asked next."""

    standing: Standing
    done: tuple[str, ...]
    next_step: str

    @property
    def blocks(self) -> bool:
        """Whether nothing may be certified before the next step is done."""
        return self.standing is Standing.BREAK_A_SAMPLE

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form."""
        return {
            "standing": self.standing.value,
            "done": list(self.done),
            "next_step": self.next_step,
            "blocks": self.blocks,
            "rule": RULE,
        }


def route(calculated: Sequence[CalculatedForce], broken: Sequence[ActualForce] = ()) -> Route:
    """Tell where a rope stands, from all tests on rope of its mill reel.

    A calculated force that falls short is settled only by an actual break made afterwards, never
    by other wires. That method 3 is treated like method 2 here is an own decision, safe side.
    """
    done = (*(_calculated_text(one) for one in calculated), *(_broken_text(one) for one in broken))
    standing, next_step = _standing(calculated, broken)
    return Route(standing, done, next_step)


def _standing(
    calculated: Sequence[CalculatedForce], broken: Sequence[ActualForce]
) -> tuple[Standing, str]:
    short = [one for one in calculated if one.outcome == FALLS_SHORT]
    unsettled = [one for one in short if not any(b.tested_at >= one.tested_at for b in broken)]
    if unsettled:
        named = ", ".join(one.test for one in unsettled)
        return Standing.BREAK_A_SAMPLE, (
            f"Break a sample of the rope (method 1): the force calculated from wires in {named}"
            " falls short. Until then nothing is certified of this mill’s reel."
        )
    if any(not one.is_met for one in broken):
        return Standing.DERATED, (
            "The rope is rated at no more than the lowest actual force that failed. The maker’s"
            " type tests are to be repeated by method 1, or the grade lowered or struck out."
        )
    if broken:
        return Standing.PROVED, "Nothing more is asked: an actual break met the force."
    if any(one.outcome == MEETS and one.counts for one in calculated):
        return Standing.CALCULATED, (
            "Nothing more is asked. The force is calculated, not broken: an actual test"
            " (method 1) may still take its place."
        )
    if calculated:
        return Standing.OPEN, (
            "No calculated force counts yet: name the spinning-loss factor with its source in a"
            " new wire test, or break a sample (method 1)."
        )
    return Standing.NOTHING, "Nothing was tested here: the maker’s word stands."


def _calculated_text(one: CalculatedForce) -> str:
    if one.calculated_n is None:
        return f"{one.test}, method {one.method}: no calculated force."
    word = "meets" if one.outcome == MEETS else "falls short of"
    doubt = "" if one.counts else " Its machine is in doubt."
    return (
        f"{one.test}, method {one.method}: {format_kn(one.calculated_n)} calculated {word}"
        f" {format_kn(one.required_n)}.{doubt}"
    )


def _broken_text(one: ActualForce) -> str:
    word = "met" if one.is_met else "failed"
    return f"{one.test}, method 1: {word} at {format_kn(one.peak_n)}."
