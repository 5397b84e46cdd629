"""Decides in which languages a paper can be set, and which one a paper is set in.

Every paper bears English, which governs: the words of the record and of its sources are English.
Arabic is spoken at the tag only: a page that mixes it with figures and formulas from left to right
cannot be set properly yet.
"""

from typing import Final

from inventory.rules.language import Language

PAPER_LANGUAGES: Final = (
    Language.ENGLISH,
    Language.GERMAN,
    Language.FRENCH,
    Language.SPANISH,
    Language.POLISH,
)


def paper_language(wished: str) -> Language:
    """Give the language that a paper is set in: the one wished for, or else English.

    Args:
        wished: a value of `Language`; empty on papers of earlier days.
    """
    known = {one.value: one for one in PAPER_LANGUAGES}
    return known.get(wished, Language.ENGLISH)


def paper_choices() -> list[tuple[str, str]]:
    """List the languages of papers for a form, each by the name that its speakers give it."""
    return [(one.value, one.own_name) for one in PAPER_LANGUAGES]
