"""Decides what a figure on a page remembers besides its words: the value, for files of a list."""

from datetime import date, datetime
from decimal import Decimal
from typing import Self


class Figure(str):
    """A text that still knows what it tells; it may stand wherever a text may.

    `value` is in `unit`, as a file of a list gives it; for an instant `unit` names the zone.
    """

    __slots__ = ("unit", "value")

    value: Decimal | date | datetime
    unit: str

    def __new__(cls, words: str, *, value: Decimal | date | datetime, unit: str = "") -> Self:
        """Put a value behind its words."""
        made = super().__new__(cls, words)
        made.value = value
        made.unit = unit
        return made
