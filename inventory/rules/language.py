"""Decides in which languages the house speaks to those outside it, on tags and on paper.

The record itself, and the pages of the house, are kept in English.
"""

from enum import StrEnum
from typing import Final


class Language(StrEnum):
    """A language by its tag (BCP 47)."""

    ENGLISH = "en"
    GERMAN = "de"
    FRENCH = "fr"
    SPANISH = "es"
    POLISH = "pl"
    ARABIC = "ar"

    @property
    def own_name(self) -> str:
        """Give the name that its speakers look for in a list."""
        return _OWN_NAMES[self]

    @property
    def is_right_to_left(self) -> bool:
        """Tell whether it is written from right to left."""
        return self is Language.ARABIC


_OWN_NAMES: Final = {
    Language.ENGLISH: "English",
    Language.GERMAN: "Deutsch",
    Language.FRENCH: "Français",
    Language.SPANISH: "Español",
    Language.POLISH: "Polski",
    Language.ARABIC: "العربية",
}
