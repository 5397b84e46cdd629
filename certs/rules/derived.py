"""What a derived number is: never bare, always with inputs, formula, source and rounding.

Which formula applies, and to what, is decided by the rules that make these values.
"""

import re
from dataclasses import dataclass
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal

from certs.rules.confidence import in_words
from inventory.rules.canonical import JsonValue

UNCERTAIN_WORDS = ("memory", "common practice", "gap")
SHOWN_FIGURES = 7
SUPERSCRIPTS = "²³"
TIMES = " \N{MULTIPLICATION SIGN} "

_PIECE = re.compile(rf"\s+|[=()/+,]|[^\s=()/+,{SUPERSCRIPTS}]+|[{SUPERSCRIPTS}]")


@dataclass(frozen=True, slots=True)
class Source:
    """Where a figure comes from, and how well it is known."""

    name: str
    edition: str = ""
    confidence: str = ""
    note: str = ""

    @property
    def is_provisional(self) -> bool:
        """Say whether any part rests on memory or habit, so that it is no authority."""
        return any(word in self.confidence for word in UNCERTAIN_WORDS)

    @property
    def text(self) -> str:
        """Give name, edition and confidence in one line."""
        titled = f"{self.name}, {self.edition}" if self.edition else self.name
        return f"{titled} [{in_words(self.confidence)}]" if self.confidence else titled

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form that is frozen into a certificate."""
        return {
            "name": self.name,
            "edition": self.edition,
            "confidence": self.confidence,
            "note": self.note,
        }


@dataclass(frozen=True, slots=True)
class Given:
    """One input of a derivation; its value is kept in the writing it was given in."""

    symbol: str
    name: str
    value: str
    unit: str
    source: Source | None = None

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form that is frozen into a certificate."""
        return {
            "symbol": self.symbol,
            "name": self.name,
            "value": self.value,
            "unit": self.unit,
            "source": self.source.as_json() if self.source else None,
        }


@dataclass(frozen=True, slots=True)
class Gap:
    """A value nobody here has read: shown as missing, with what to do, and never filled in."""

    quantity: str
    reason: str
    source: Source | None = None


@dataclass(frozen=True, slots=True)
class Derived:
    """A number with everything it rests on.

    `unrounded` and `stated` are in `unit`. `rests_on` holds the derivations whose stated values
    are among the inputs; `governed_by` names the input that decided, where one of several does.
    """

    quantity: str
    symbol: str
    formula: str
    inputs: tuple[Given, ...]
    source: Source
    unrounded: Decimal
    stated: Decimal
    unit: str
    rounding: str
    basis: str
    rests_on: tuple["Derived", ...] = ()
    remarks: tuple[str, ...] = ()
    governed_by: str = ""

    @property
    def is_provisional(self) -> bool:
        """Say whether anything it rests on, however far back, is no authority."""
        return (
            self.source.is_provisional
            or any(given.source and given.source.is_provisional for given in self.inputs)
            or any(earlier.is_provisional for earlier in self.rests_on)
        )

    @property
    def text(self) -> str:
        """Give the stated value with its unit."""
        return with_unit(plain(self.stated), self.unit)

    def steps(self) -> tuple[str, ...]:
        """Tell the derivation in lines a person can follow and repeat, earliest first."""
        own = (
            f"{self.quantity}: {self.formula}",
            *(_given_line(given) for given in self.inputs),
            self._worked_line(),
            *self.remarks,
            f"Source: {self.source.text}",
        )
        return (*(line for earlier in self.rests_on for line in earlier.steps()), *own)

    def as_json(self) -> dict[str, JsonValue]:
        """Give the plain form that is frozen into a certificate; every number is a string."""
        return {
            "quantity": self.quantity,
            "symbol": self.symbol,
            "formula": self.formula,
            "inputs": [given.as_json() for given in self.inputs],
            "source": self.source.as_json(),
            "unrounded": plain(self.unrounded),
            "stated": plain(self.stated),
            "unit": self.unit,
            "rounding": self.rounding,
            "worked": self._worked_line(),
            "basis": self.basis,
            "rests_on": [earlier.as_json() for earlier in self.rests_on],
            "remarks": list(self.remarks),
            "governed_by": self.governed_by,
            "is_provisional": self.is_provisional,
        }

    def _worked_line(self) -> str:
        values = {given.symbol: given.value for given in self.inputs}
        worked = with_figures(self.formula, values)
        unrounded = with_unit(_shown(self.unrounded), self.unit)
        return f"{worked} = {unrounded} → {self.text} ({self.rounding})"


def round_half_up(value: Decimal, significant: int = 3) -> Decimal:
    """Round to significant figures, a half going up.

    This reproduces every metric row of API Spec 9A (26th ed 2011) Table C.1, force and mass.
    """
    return _to_figures(value, significant, ROUND_HALF_UP)


def round_down(value: Decimal, significant: int = 3) -> Decimal:
    """Cut to significant figures towards zero: for a limit that may not be overstated."""
    return _to_figures(value, significant, ROUND_DOWN)


def plain(value: Decimal) -> str:
    """Write a decimal without an exponent, with the figures it holds."""
    return format(value, "f")


def trimmed(value: Decimal) -> str:
    """Write a decimal without an exponent and without trailing zeros behind the mark."""
    text = plain(value)
    return text.rstrip("0").rstrip(".") if "." in text else text


def with_unit(text: str, unit: str) -> str:
    """Write a value with its unit; a pure number stands alone."""
    return f"{text} {unit}" if unit else text


def with_figures(formula: str, values: dict[str, str]) -> str:
    """Write a formula with figures in place of symbols, a product sign between factors."""
    written: list[str] = []
    was_factor = is_apart = False
    left, mark, right = formula.partition("=")
    for piece in _PIECE.findall(right):
        if piece.isspace():
            is_apart = True
            continue
        is_factor = piece in values or piece.isdecimal()
        if written and is_apart:
            written.append(TIMES if was_factor and (is_factor or piece == "(") else " ")
        written.append(values.get(piece, piece))
        was_factor = is_factor or piece in SUPERSCRIPTS or piece == ")"
        is_apart = False
    return f"{left}{mark} {''.join(written)}"


def _to_figures(value: Decimal, significant: int, rounding: str) -> Decimal:
    if significant < 1:
        message = "at least one significant figure is needed"
        raise ValueError(message)
    place = value.adjusted() - significant + 1
    rounded = value.quantize(Decimal(1).scaleb(place), rounding=rounding)
    # 9.996 to three figures is 10.00 in the place of the hundredth: one figure too many.
    if rounded.adjusted() > value.adjusted():
        rounded = rounded.quantize(Decimal(1).scaleb(place + 1), rounding=rounding)
    return Decimal(plain(rounded))


def _shown(value: Decimal) -> str:
    cut = round_down(value, SHOWN_FIGURES)
    return trimmed(cut) if cut == value else f"{plain(cut)}…"


def _given_line(given: Given) -> str:
    line = f"{given.symbol} = {with_unit(given.value, given.unit)}: {given.name}"
    return f"{line}; {given.source.text}" if given.source else line
