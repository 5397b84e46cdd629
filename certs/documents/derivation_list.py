"""Lists the derivations behind a paper, each once, with their sources numbered.

Several stated values rest on the same earlier one; on paper it is shown a single time and named
by its number.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from certs.rules.confidence import in_words

Json = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Line:
    """One input of a derivation; `mark` is the number of its source, empty where it has none."""

    symbol: str
    name: str
    value: str
    mark: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One derivation as it is printed."""

    number: int
    quantity: str
    formula: str
    worked: str
    lines: tuple[Line, ...]
    mark: str
    remarks: tuple[str, ...]


@dataclass(slots=True)
class DerivationList:
    """Derivations in the order in which each is first needed, earliest first, and sources."""

    entries: list[Entry] = field(default_factory=list)
    sources: list[str] = field(default_factory=list)
    _numbers: dict[str, int] = field(default_factory=dict)

    def add(self, derivation: Json) -> int:
        """Take a derivation and all it rests on; give its number on this paper."""
        for earlier in derivation["rests_on"]:
            self.add(earlier)
        key = f"{derivation['quantity']}|{derivation['worked']}|{derivation['basis']}"
        if key not in self._numbers:
            self._numbers[key] = len(self._numbers) + 1
            self.entries.append(self._entry(derivation, self._numbers[key]))
        return self._numbers[key]

    def _entry(self, derivation: Json, number: int) -> Entry:
        return Entry(
            number=number,
            quantity=derivation["quantity"],
            formula=derivation["formula"],
            worked=derivation["worked"],
            lines=tuple(self._lines(derivation)),
            mark=self._mark(derivation["source"]),
            remarks=tuple(derivation["remarks"]),
        )

    def _lines(self, derivation: Json) -> Iterator[Line]:
        for given in derivation["inputs"]:
            value = f"{given['value']} {given['unit']}".strip()
            mark = self._mark(given["source"]) if given["source"] else ""
            yield Line(given["symbol"], given["name"], value, mark)

    def _mark(self, source: Json) -> str:
        titled = ", ".join(part for part in (source["name"], source["edition"]) if part)
        text = f"{titled} [{in_words(source['confidence'])}]" if source["confidence"] else titled
        if text not in self.sources:
            self.sources.append(text)
        return str(self.sources.index(text) + 1)
