"""Reads the text of a load to be marked on a sling into whole kilograms, rounded down.

Loads alone are typed in tonnes; the mass of a thing is read by `inventory.rules.units`.
"""

from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from math import floor
from types import MappingProxyType
from typing import Final

from inventory.rules.quantity_text import read_quantity
from inventory.rules.refusal import Refusal

FIELD: Final = "marked_kg"
# NIST SP 811 (2008), B.8: the pound is exactly this, the short ton 2000 of it.
KG_PER_UNIT: Final[Mapping[str, Decimal]] = MappingProxyType(
    {
        "t": Decimal(1000),
        "kg": Decimal(1),
        "lb": Decimal("0.45359237"),
        "short ton": Decimal("907.18474"),
    }
)
# Far beyond any sling of wire rope, and within four bytes: what exceeds it is a slip.
MAX_LOAD_KG: Final = 10**6

_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {name: name for name in KG_PER_UNIT}
    | {"tonne": "t", "tonnes": "t", "short tons": "short ton"}
    | {"lbs": "lb", "pound": "lb", "pounds": "lb"}
)
_WHICH: Final = "may be many things; write t (1000 kg) or short ton (2000 lb)"


def read_load_kg(text: str, *, unit: str = "t") -> int:
    """Read a load such as "1.6", "1.6 t", "1600 kg", "3500 lb" or "1 3/4 short tons".

    Whole kg, never above what was typed. `unit` (a key of `KG_PER_UNIT`) is meant where the text
    names none. Raises `Refusal`.
    """
    number, written = read_quantity(text, field="load")
    name = _NAMES.get(written.lower()) if written else unit
    if name is None:
        is_ton = written.lower() in {"ton", "tons"}
        reason = _WHICH if is_ton else f"is no unit here; write {', '.join(KG_PER_UNIT)}"
        raise Refusal(f"“{written}” {reason}.", field=FIELD)
    kg = floor(number * Fraction(KG_PER_UNIT[name]))
    if kg > MAX_LOAD_KG:
        message = f"“{text.strip()}” is beyond any sling; check the number and the unit."
        raise Refusal(message, field=FIELD)
    if kg < 1:
        message = f"“{text.strip()}” is less than a kilogram: a mark is in whole kilograms."
        raise Refusal(message, field=FIELD)
    return kg


def format_tonnes(kg: int) -> str:
    """Write a load in tonnes exactly, with no digit more than it has: 1600 is "1.6 t"."""
    digits = f"{kg // 1000}.{kg % 1000:03d}".rstrip("0").rstrip(".")
    return f"{digits} t"
