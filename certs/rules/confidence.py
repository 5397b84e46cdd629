"""Says in plain words how well a source is known; the short marks are those of the tables."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

WORDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "two-sources": "two sources",
        "read": "one source",
        "derived": "follows from the others",
        "memory": "from memory",
        "gap": "no value held",
    }
)


def in_words(confidence: str) -> str:
    """Give a mark in plain words; what is no mark already is words, and stays.

    A mark may stand for some columns of a row only: "two-sources (K); read (C, W)".
    """
    return WORDS.get(confidence, confidence.replace("two-sources", WORDS["two-sources"]))
