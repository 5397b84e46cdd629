"""What a printed content may stand for, and how it lies to a limit.

"0.72" is 0.72; "<0.005" is anything from nought up to there. What follows for the steel is decided
by `ladle_analysis`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from certs.rules.steel_limits import ContentLimit

BELOW = "<"


class Standing(StrEnum):
    """How a content lies to its limit."""

    WITHIN = "within"
    OUTSIDE = "outside"
    UNSURE = "unsure"
    NOT_STATED = "not stated"


@dataclass(frozen=True, slots=True)
class Content:
    """The span of mass per cent that a figure stands for; with `is_open` its top is not in it."""

    lowest: Decimal
    highest: Decimal
    is_open: bool = False

    def __add__(self, other: "Content") -> "Content":
        """Give the span of a sum."""
        return Content(
            self.lowest + other.lowest,
            self.highest + other.highest,
            self.is_open or other.is_open,
        )


def content_of(figure: str) -> Content:
    """Read a figure as a mill prints it, such as "0.72" or "<0.005"."""
    value = Decimal(figure.removeprefix(BELOW))
    if figure.startswith(BELOW):
        return Content(Decimal(0), value, is_open=True)
    return Content(value, value)


def standing(limit: ContentLimit, analysis: Mapping[str, str]) -> Standing:
    """Say how the contents of an analysis lie to one limit, its ends included."""
    if any(symbol not in analysis for symbol in limit.symbols):
        return Standing.NOT_STATED
    whole = Content(Decimal(0), Decimal(0))
    for symbol in limit.symbols:
        whole += content_of(analysis[symbol])
    if _is_above(whole, limit.highest) or _is_below(whole, limit.lowest):
        return Standing.OUTSIDE
    is_low_enough = limit.highest is None or whole.highest <= limit.highest
    is_high_enough = limit.lowest is None or whole.lowest >= limit.lowest
    return Standing.WITHIN if is_low_enough and is_high_enough else Standing.UNSURE


def decimals_of(figure: str) -> int:
    """Count the decimals of a printed figure."""
    return len(figure.partition(".")[2])


def _is_above(content: Content, highest: Decimal | None) -> bool:
    return highest is not None and content.lowest > highest


def _is_below(content: Content, lowest: Decimal | None) -> bool:
    if lowest is None:
        return False
    return content.highest < lowest or (content.is_open and content.highest == lowest)
