"""Decides where a quantity falls on a drawn axis and which round values are marked on it."""

import math
from dataclasses import dataclass

_STEPS = (1, 2, 5, 10)


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight scale from a quantity (`low`..`high`, one unit) to user units (`start`..`end`)."""

    low: float
    high: float
    start: float
    end: float

    def __post_init__(self) -> None:
        """Refuse a scale without extent.

        Raises:
            ValueError: `high` is not above `low`.

        """
        if not self.high > self.low:
            message = f"a scale needs an extent, not {self.low} to {self.high}"
            raise ValueError(message)

    def at(self, value: float) -> float:
        """Return the position of a value, in user units."""
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)


def round_step(span: float, *, at_most: int) -> float:
    """Return the smallest step of 1, 2 or 5 times a power of ten that cuts `span` in `at_most`."""
    raw = span / at_most
    power = 10.0 ** math.floor(math.log10(raw))
    return next((step * power for step in _STEPS if step * power >= raw * (1 - 1e-9)), 10 * power)


def round_ticks(low: float, high: float, *, at_most: int) -> tuple[float, ...]:
    """Return the multiples of a round step that lie in `low`..`high`, ends included."""
    step = round_step(high - low, at_most=at_most)
    first = math.ceil(low / step - 1e-9)
    last = math.floor(high / step + 1e-9)
    # Twelve digits drop what binary fractions leave behind (0.30000000000000004).
    return tuple(float(f"{index * step:.12g}") for index in range(first, last + 1))


def plain(value: float) -> str:
    """Write a tick value without exponent or trailing zeros."""
    return f"{value:.6f}".rstrip("0").rstrip(".") or "0"
