"""The limits of a steel's ladle analysis, with what was read of them and what is only remembered.

The table says limit by limit which were read: a row that is half read is neither authority nor
hearsay as a whole. What an analysis that passes a limit means is decided by `ladle_analysis`.
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from certs.rules.derived import Source

SYMBOLS = ("C", "Si", "Mn", "P", "S", "Cr", "Ni", "Mo", "Cu", "N")
NOT_LIMITED = "-"
READ, MEMORY = "read", "memory"
# EN 10088-1 calls a steel stainless from 10.5 % chromium on (from memory); it rejects nothing.
STAINLESS_FROM_CR_PCT = Decimal("10.5")

_AT_MOST = re.compile(r"([A-Z][a-z]?(?:\+[A-Z][a-z]?)*)<=([0-9.]+)")
_CHECK_SAMPLE = re.compile(r"product-analysis tolerance on ([A-Z][a-z]?) \+/-([0-9.]+)")
_SEVERAL = re.compile(r"[/,;]| and ")


@dataclass(frozen=True, slots=True)
class ContentLimit:
    """A limit as printed, of one element or of the sum of several, in per cent by mass."""

    symbols: tuple[str, ...]
    text: str
    lowest: Decimal | None
    highest: Decimal | None
    source: Source

    @property
    def name(self) -> str:
        """Give the element, or the sum as it is written."""
        return "+".join(self.symbols)

    @property
    def decimals(self) -> int:
        """Count the decimals that the limit is printed with."""
        ends = [end for end in (self.lowest, self.highest) if end is not None]
        return max(-int(end.as_tuple().exponent) for end in ends)


@dataclass(frozen=True, slots=True)
class CheckSampleTolerance:
    """How far an analysis of the product may lie from that of the ladle, in per cent by mass."""

    symbol: str
    tolerance: Decimal
    source: Source


@dataclass(frozen=True, slots=True)
class SteelLimits:
    """The limits of one steel under one standard."""

    steel: str
    standard: str
    limits: tuple[ContentLimit, ...]
    tolerances: tuple[CheckSampleTolerance, ...]

    @classmethod
    def read(cls, row: Mapping[str, str]) -> "SteelLimits":
        """Read a row of the table; its column `read` lists the limits that were read."""
        known = frozenset(row.get("read", "").split())

        def source(name: str) -> Source:
            confidence = READ if name in known else MEMORY
            return Source(f"{row['standard']}, {row['grade']}", "", confidence, row["confidence"])

        single = ((symbol, row.get(symbol, NOT_LIMITED) or NOT_LIMITED) for symbol in SYMBOLS)
        other = row.get("other", "")
        return cls(
            steel=row["grade"],
            standard=row["standard"],
            limits=(
                *(
                    _limit((symbol,), text, source(symbol))
                    for symbol, text in single
                    if text != NOT_LIMITED
                ),
                *(
                    _limit(tuple(names.split("+")), f"<={figure}", source(names))
                    for names, figure in _AT_MOST.findall(other)
                ),
            ),
            tolerances=tuple(
                CheckSampleTolerance(symbol, Decimal(figure), source(symbol))
                for symbol, figure in _CHECK_SAMPLE.findall(other)
            ),
        )

    @property
    def is_stainless(self) -> bool:
        """Say whether every steel within these limits is stainless."""
        return any(
            limit.symbols == ("Cr",)
            and limit.lowest is not None
            and limit.lowest >= STAINLESS_FROM_CR_PCT
            for limit in self.limits
        )

    def is_named(self, name: str) -> bool:
        """Say whether a mill's name of a steel is one of this row's: number, name, or both."""
        asked = name.casefold().split()
        return bool(asked) and set(asked) <= set(self.steel.casefold().split())


def steels_named(steel_name: str) -> tuple[str, ...]:
    """Give the steels that a name claims: more than one where a heat is certified as both."""
    return tuple(part.strip() for part in _SEVERAL.split(steel_name) if part.strip())


def rows_for(name: str, rows: Iterable[SteelLimits]) -> tuple[SteelLimits, ...]:
    """List the rows for one steel as the mill names it; nothing is taken for an equivalent."""
    return tuple(row for row in rows if row.is_named(name))


def is_stainless(
    steel_name: str, analysis: Mapping[str, str], rows: Sequence[SteelLimits]
) -> bool | None:
    """Say whether a steel is stainless, by its name or else its chromium; None if unknown."""
    held = [row for name in steels_named(steel_name) for row in rows_for(name, rows)]
    if held:
        return any(row.is_stainless for row in held)
    chromium = analysis.get("Cr", "").removeprefix("<")
    return Decimal(chromium) >= STAINLESS_FROM_CR_PCT if chromium else None


def _limit(symbols: tuple[str, ...], text: str, source: Source) -> ContentLimit:
    if text.startswith("<="):
        return ContentLimit(symbols, text, None, Decimal(text.removeprefix("<=")), source)
    lowest, _, highest = text.partition("-")
    return ContentLimit(symbols, text, Decimal(lowest), Decimal(highest), source)
