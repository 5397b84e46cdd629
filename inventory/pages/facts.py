"""Decides what a fact on a page is made of: a word, and a text with perhaps a link or a state."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fact:
    """A word and what there is to say to it; see `templates/parts/_facts.html`."""

    word: str
    text: str
    href: str = ""
    shape: str = ""
    note: str = ""


def told(*facts: Fact) -> list[Fact]:
    """Return the facts that say something; a gap is left out."""
    return [fact for fact in facts if fact.text]
