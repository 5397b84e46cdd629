"""What a rope designation says, in the order of EN 12385-2, and how it is written.

Reading one from text is left to `designation`. The order of the parts, the lay letters and the
finish letters U, A and B follow EN 12385-2:2002 as quoted in published texts. From memory, not
seen in the standard: the list of core symbols beyond FC, WSC, IWRC and IWRC(K), the finishes
AB, A(Zn/Al) and B(Zn/Al), the letter "a" of alternate lay, and "(W)" after the strand count.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from inventory.rules import units
from inventory.rules.refusal import Refusal

CONSTRUCTION: Final = re.compile(
    r"(?P<strands>[1-9][0-9]?)(?:\(W\))?xK?[1-9][0-9]{0,2}(?P<kind>FC|[FMNSW]{1,4})?"
)
CORES: Final = (
    *("FC", "NFC", "SFC", "SPC", "WC", "WSC", "KWSC"),
    *("IWRC", "IWRC(K)", "EPIWRC", "PWRC", "PWRC(K)"),
)
METRIC_GRADE: Final = re.compile(r"[12][0-9]{3}")
# Names of strength levels in American use; never converted into a metric grade, nor back.
US_GRADES: Final = (
    *("TS", "MPS", "PS", "IPS"),
    *("XIP", "XIPS", "EIP", "EIPS", "XXIP", "XXIPS", "EEIP", "EEIPS"),
)
FINISHES: Final = ("U", "A", "B", "AB", "A(Zn/Al)", "B(Zn/Al)")
# The lower-case letter is the strand, the upper-case one the rope: when they differ, the wires
# run along the rope (ordinary lay); when they agree, across it (lang lay).
LAY_WORDS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "sZ": "right ordinary lay",
        "zS": "left ordinary lay",
        "zZ": "right lang lay",
        "sS": "left lang lay",
        "aZ": "right alternate lay",
        "aS": "left alternate lay",
        "Z": "right lay",
        "S": "left lay",
    }
)
SPIRAL_LAYS: Final = ("Z", "S")
# Common practice, no source: the trade counts the core strand as a seventh.
TRADE_NAMES: Final[Mapping[tuple[str, str], str]] = MappingProxyType(
    {("6x7", "WSC"): "7x7", ("6x19M", "WSC"): "7x19"}
)

_NM_PER_INCH: Final = 25_400_000
_CORELESS_STRANDS: Final = (1, 3)


class DesignationError(Refusal):
    """A designation that cannot be understood; the text says which part, and what is expected."""

    def __init__(self, message: str, *, field: str = "designation") -> None:
        """Take a whole sentence; it belongs to the designation unless said otherwise."""
        super().__init__(message, field=field)


@dataclass(frozen=True, slots=True)
class RopeDesignation:
    """A rope by its designation; two are equal when they say the same of a rope.

    `diameter` is canonical text ("12", "1.5", "1-1/8") in `diameter_unit` ("mm" or "in"); `core`
    is empty for a spiral strand and where three strands close without one. `assumed` names the
    parts that were not stated ("construction", "core", "finish", "lay", "preforming") and does
    not count in a comparison. Raises `DesignationError` for parts that cannot be.
    """

    diameter: str
    diameter_unit: str
    construction: str
    core: str
    grade: str
    finish: str
    lay: str
    assumed: frozenset[str] = field(default=frozenset(), compare=False)

    def __post_init__(self) -> None:
        """Refuse parts that are not canonical or do not go together."""
        if canonical_diameter(self.diameter, self.diameter_unit) != self.diameter:
            message = f"“{self.diameter}” is not how this diameter is written."
            raise DesignationError(message)
        if not CONSTRUCTION.fullmatch(self.construction):
            message = f"“{self.construction}” is no construction; write it as 6x36WS or 1x19."
            raise DesignationError(message)
        _check_core(self.construction, self.core, strands=self.outer_strands)
        if not (METRIC_GRADE.fullmatch(self.grade) or self.grade in US_GRADES):
            message = f"“{self.grade}” is no grade; write one such as 1770 or IPS."
            raise DesignationError(message)
        if self.finish not in FINISHES:
            message = f"“{self.finish}” is no finish; write one of {', '.join(FINISHES)}."
            raise DesignationError(message)
        lays = lays_of(is_stranded=self.is_stranded)
        if self.lay not in lays:
            message = (
                f"“{self.lay}” is no lay of {self.construction}; write one of {', '.join(lays)}."
            )
            raise DesignationError(message)

    @property
    def diameter_nm(self) -> int:
        """The nominal diameter in nanometres, exact for inch sizes too."""
        return units.diameter_nm(f"{self.diameter} {self.diameter_unit}")

    @property
    def diameter_mm(self) -> Decimal:
        """The nominal diameter in millimetres, exact."""
        return Decimal(self.diameter_nm) / 10**6

    @property
    def text(self) -> str:
        """The designation written in full, parts that were assumed included."""
        size = self.diameter if self.diameter_unit == "mm" else f"{self.diameter} in"
        core = f"-{self.core}" if self.core else ""
        return f"{size} {self.construction}{core} {self.grade} {self.finish} {self.lay}"

    @property
    def trade_name(self) -> str | None:
        """The trade's shorthand, such as "7x7" for 6x7-WSC, or None when there is none."""
        if not self.is_stranded:
            return self.construction
        return TRADE_NAMES.get((self.construction, self.core))

    @property
    def lay_words(self) -> str:
        """The lay in words, such as "right ordinary lay"."""
        return LAY_WORDS[self.lay]

    @property
    def outer_strands(self) -> int:
        """The strands that are counted, those round the core; 1 for a spiral strand.

        Of a rope with two layers, such as 18x7, the standard's count takes in both.
        """
        return int(self.construction.partition("x")[0].removesuffix("(W)"))

    @property
    def is_stranded(self) -> bool:
        """Whether this is a rope of strands, not a single spiral strand."""
        return self.outer_strands > 1


def canonical_diameter(number: str, unit: str) -> str:
    """Write a diameter in the one way used here: "12.0" is "12", "6/32" in is "3/16".

    Inches are written as a fraction when they are a whole number of sixty-fourths. Raises
    `DesignationError` for what is no diameter.
    """
    if unit not in {"mm", "in"}:
        message = f"“{unit}” is no unit of diameter; write mm or in."
        raise DesignationError(message)
    try:
        nm = units.diameter_nm(f"{number} {unit}")
    except Refusal as refusal:
        raise DesignationError(refusal.message) from refusal
    if unit == "mm":
        return _plain(Decimal(nm) / 10**6)
    inches = Fraction(nm, _NM_PER_INCH)
    if 64 % inches.denominator == 0:
        return _mixed(inches)
    written = _plain(Decimal(nm) / _NM_PER_INCH)
    if Fraction(written) != inches:
        message = f"“{number} in” is no size of rope; write sixty-fourths or decimals."
        raise DesignationError(message)
    return written


def lays_of(*, is_stranded: bool) -> tuple[str, ...]:
    """Return the lays such a rope can have: one letter for a spiral strand, two otherwise."""
    return tuple(lay for lay in LAY_WORDS if (lay not in SPIRAL_LAYS) is is_stranded)


def _check_core(construction: str, core: str, *, strands: int) -> None:
    if strands == 1 and core:
        message = f"{construction} is a spiral strand, which has no core; leave out “{core}”."
        raise DesignationError(message)
    if not core and strands not in _CORELESS_STRANDS:
        message = (
            f"The core of {construction} is missing; write it after a hyphen,"
            f" such as {construction}-FC or {construction}-IWRC."
        )
        raise DesignationError(message)
    if core and core not in CORES:
        message = f"“{core}” is no core; write one of {', '.join(CORES)}."
        raise DesignationError(message)


def _plain(value: Decimal) -> str:
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if rest == 0:
        return str(whole)
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{whole}-{fraction}" if whole else fraction
