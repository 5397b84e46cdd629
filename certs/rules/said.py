"""Sentences that can be said in another language: fixed words, with places for what is not words.

A `Said` is its English text, so whoever needs no translation reads it as any text. Who translates
takes the words, which never change, and puts what stands in the places back untouched: a load, a
code and a day must be the same in every language.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Self, SupportsIndex

if TYPE_CHECKING:
    from datetime import date


class Typed(str):
    """Words that a person of the house typed, or that a paper froze: in English, never translated.

    Any other text in a place is a code, a number or a name that reads the same everywhere.
    """

    __slots__ = ()


class Said(str):
    """An English sentence made of `words` with `{places}` and of what is `given` for them."""

    __slots__ = ("given", "words")
    words: str
    given: Mapping[str, "str | date"]

    def __new__(cls, words: str, /, **given: "str | date") -> Self:
        """Put what is given into its places; a day is written as ISO 8601 has it.

        Raises:
            KeyError: a place is given nothing.
        """
        made = super().__new__(cls, words.format(**given))
        made.words = words
        made.given = MappingProxyType(given)
        return made

    def __reduce_ex__(self, _protocol: SupportsIndex) -> tuple[object, ...]:
        """Copy it with its words, not only with its text."""
        return _again, (type(self), self.words, dict(self.given))


def _again(kind: type[Said], words: str, given: Mapping[str, "str | date"]) -> Said:
    return kind(words, **given)
