"""Decides how the limits of a force log are named, and how labels keep clear of their lines."""

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.documents.scale import plain
from inventory.documents.svg import text_width

LABEL_SIZE = 12
LINE_OF_TEXT = 14.0
"""How high a line of text is, in user units."""

_BELOW_BASELINE = 4.0


@dataclass(frozen=True, slots=True)
class Limit:
    """A force in N that a curve is held against, its words and its kind of line."""

    force_n: float
    words: str
    dashes: str


def kilonewtons(force_n: float) -> str:
    """Write a force in N as kN with three decimals at most; for reading a drawing, not a claim."""
    return f"{plain(round(force_n / 1000, 3))} kN"


def named_limits(
    *, target_n: float | None, ceiling_n: float | None, mark_n: float | None = None
) -> list[Limit]:
    """Return target, force not to be exceeded and 80 %, in N, as far as given, the lowest first."""
    named = (("80 %:", mark_n, "1 3"), ("target", target_n, "6 4"), ("not above", ceiling_n, "2 3"))
    limits = (
        Limit(force_n, f"{word} {kilonewtons(force_n)}", dashes)
        for word, force_n, dashes in named
        if force_n is not None
    )
    return sorted(limits, key=lambda limit: limit.force_n)


def margin(limits: Sequence[Limit]) -> float:
    """Return the room that their words need beside the field, clear of the curve."""
    return max((text_width(limit.words, size=LABEL_SIZE) for limit in limits), default=0.0)


def clear_of(lines: Sequence[float], *, baseline: float) -> float:
    """Raise a line of text until no level line crosses it.

    Heights in user units, downwards; `lines` from the lowest on the page to the highest.
    """
    for line in lines:
        if baseline - LINE_OF_TEXT < line < baseline + _BELOW_BASELINE:
            baseline = line - _BELOW_BASELINE - 1
    return baseline
