"""Decides how a derived number is told on a page: every step, the earliest first.

It changes no figure; what was derived, and how, is said by the rules.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from certs.rules.confidence import in_words
from certs.rules.derived import Derived, Given, plain, with_figures, with_unit

_SHOWN_DIGITS = 12


@dataclass(frozen=True, slots=True)
class ShownInput:
    """One input in words; see `templates/parts/_derivation.html`."""

    word: str
    value: str
    source: str
    confidence: str


@dataclass(frozen=True, slots=True)
class ShownDerivation:
    """One step in words."""

    title: str
    stated: str
    unrounded: str
    rounding: str
    formula: str
    source: str
    edition: str
    confidence: str
    inputs: tuple[ShownInput, ...]
    notes: tuple[str, ...]


def shown_steps(derived: Derived) -> list[ShownDerivation]:
    """Tell a derivation with all that it rests on, each once."""
    return list(dict.fromkeys(_steps(derived)))


def _steps(derived: Derived) -> Iterator[ShownDerivation]:
    for earlier in derived.rests_on:
        yield from _steps(earlier)
    yield _shown(derived)


def _shown(derived: Derived) -> ShownDerivation:
    quantity = derived.quantity
    return ShownDerivation(
        title=quantity[:1].upper() + quantity[1:],
        stated=derived.text,
        unrounded=with_unit(_cut(plain(derived.unrounded)), derived.unit),
        rounding=derived.rounding,
        formula=_worked(derived),
        source=derived.source.name,
        edition=derived.source.edition,
        confidence=in_words(derived.source.confidence),
        inputs=tuple(_input(given) for given in derived.inputs),
        notes=tuple(_notes(derived)),
    )


def _worked(derived: Derived) -> str:
    """Write the formula, and under it the same with figures."""
    values = {given.symbol: given.value for given in derived.inputs}
    worked = with_figures(derived.formula, values)
    return derived.formula if worked == derived.formula else f"{derived.formula}:  {worked}"


def _input(given: Given) -> ShownInput:
    return ShownInput(
        word=f"{given.symbol}: {given.name}",
        value=with_unit(given.value, given.unit),
        source=given.source.name if given.source else "from the record",
        confidence=in_words(given.source.confidence) if given.source else "",
    )


def _notes(derived: Derived) -> Iterator[str]:
    yield f"Basis: {derived.basis}."
    if derived.governed_by:
        yield f"Of the values above the lowest governs: {derived.governed_by}."
    yield from derived.remarks
    if derived.is_provisional:
        yield (
            "Provisional: something it rests on is from memory or common practice, so it is no"
            " authority. Compare it with the standard itself before relying on it."
        )


def _cut(text: str) -> str:
    """Cut a long tail of digits; the ellipsis says that there are more."""
    return text if len(text) <= _SHOWN_DIGITS else f"{text[:_SHOWN_DIGITS]}…"
