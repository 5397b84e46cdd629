"""Finds again, in the frozen words beside a load, the sentences that this program wrote.

Papers freeze their words in English; a sentence that is recognised can be said in another
language with the same figures. What is not recognised stays as it was frozen.
"""

import re
from typing import Final

from certs.rules.said import Said, Typed

_LEGS: Final = ("One leg", "Two legs", "Three legs", "Four legs", "Endless choke")

# Each with the words it is said in; a place takes a figure or a name, and no full sentence.
_SENTENCES: Final = (
    "{legs}; {convention}",
    "{legs}, {least} to {most} degrees from the vertical; {convention}",
    "{legs}, {least} to {most} degrees from the horizontal; {convention}",
    "{legs}, {least} to {most} degrees from the vertical",
    "{legs}, {least} to {most} degrees from the horizontal",
    "At {least} to {most} degrees from the vertical; derived {load}",
    "At {least} to {most} degrees from the horizontal; derived {load}",
    "For one leg; derived {load}",
    "For endless choke; derived {load}",
    "Derived {load}; the mark is lower and governs",
    "EN 13414-1, angles counted from the vertical",
    "United States practice, angles counted from the horizontal",
    "By formula; no printed value is held to compare it with",
    (
        "By formula; the printed tables of 29 CFR 1910.184 were removed in 2011 and 2012"
        " (76 FR 33590, 77 FR 23117)"
    ),
    (
        "Lower of formula, {formula}, and printed table, {printed} ({source}), which lies"
        " {difference} off it"
    ),
    "In pounds, rounded down: {load}",
    "Nothing heavier than the mark, even where more is derived",
    "Nothing heavier than the mark at any angle, even where more is derived",
    "A figure behind it is from memory or habit: treat it as provisional and have it confirmed",
    "The force at which new rope may break, not a load that it may carry in use",
    "The force at which it may break when new, not a load that it may carry in use",
)
_QUANTITIES: Final = (
    "Working load limit",
    "Working load limit marked",
    "Minimum breaking force of the piece with its ends",
    "Minimum breaking force of the rope of reel {reel}",
)
_CONVENTIONS: Final = (
    "EN 13414-1, angles counted from the vertical",
    "United States practice, angles counted from the horizontal",
)
_PLACES: Final = {
    "legs": "|".join(_LEGS),
    "convention": "|".join(map(re.escape, _CONVENTIONS)),
    "least": r"[\d.]+",
    "most": r"[\d.]+",
    "load": r"[\d.,]+ (?:t|kN|lb)",
    "formula": r"[\d.,]+ t",
    "printed": r"[\d.,]+ t",
    "difference": "[−+]?" + r"[\d.]+ %",
    "source": r".+",
    "reel": r"\S+",
}


def load_quantity(text: str) -> Said | Typed:
    """Name what a load is: "Working load limit", its first letter a capital as in a heading."""
    return _recognised(text[:1].upper() + text[1:], _QUANTITIES, end="")


def load_sentences(text: str) -> tuple[Said | Typed, ...]:
    """Give the sentences that stand beside a load, each with its full stop.

    The first says legs and angle, where the load has any.
    """
    whole = text.strip().removesuffix(".")
    return tuple(_recognised(one, _SENTENCES, end=".") for one in whole.split(". ") if one)


def _recognised(text: str, known: tuple[str, ...], *, end: str) -> Said | Typed:
    for words in known:
        found = _pattern(words).fullmatch(text)
        if found is not None:
            given = {name: _given(name, part) for name, part in found.groupdict().items()}
            return Said(f"{words}{end}", **given)
    return Typed(f"{text}{end}")


def _given(name: str, part: str) -> str:
    if name in {"legs", "convention"}:
        return Said(part)
    return Typed(part) if name == "source" else part


def _pattern(words: str) -> re.Pattern[str]:
    """Make of words with places what finds them; read once (the re module keeps patterns)."""
    parts = re.split(r"\{(\w+)\}", words)
    made = "".join(
        f"(?P<{part}>{_PLACES[part]})" if place % 2 else re.escape(part)
        for place, part in enumerate(parts)
    )
    return re.compile(made)
