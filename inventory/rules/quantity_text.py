"""Reads the text of a quantity into an exact number and the unit as written.

What the unit means is decided by `units`; what can be read in two ways is refused here.
"""

import re
from decimal import Decimal
from fractions import Fraction
from typing import Final

from inventory.rules.refusal import Refusal

_QUANTITY: Final = re.compile(r"([0-9][0-9.,/\s-]*|[.,][0-9]+)\s*(\D*)")
_MIXED: Final = re.compile(r"(?:([0-9]+)(?:\s+|\s*-\s*))?([0-9]+)\s*/\s*([0-9]+)")
_POINT: Final = re.compile(r"[0-9]*\.?[0-9]+")
_COMMA: Final = re.compile(r"[0-9]*,[0-9]+")
_THREE_AFTER_COMMA: Final = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_MAX_CHARACTERS: Final = 40


def read_quantity(text: str, *, field: str) -> tuple[Fraction, str]:
    """Return the number and the unit as written, which may be empty. Raises `Refusal`."""
    if len(text) > _MAX_CHARACTERS:
        message = f"This is too long for a {field}; write a number and a unit."
        raise Refusal(message, field=field)
    match = _QUANTITY.fullmatch(text.strip())
    if match is None:
        message = f"“{text.strip()}” is not a {field}; write it with a unit: {_example(field)}."
        raise Refusal(message, field=field)
    return _number(match[1].strip(), field=field), match[2].strip()


def _number(text: str, *, field: str) -> Fraction:
    if ("," in text and "." in text) or _THREE_AFTER_COMMA.fullmatch(text):
        message = (
            f"“{text}” can be read in two ways; write thousands without a mark"
            " and the decimals after a point, such as 1234.5."
        )
        raise Refusal(message, field=field)
    if _POINT.fullmatch(text) or _COMMA.fullmatch(text):
        return Fraction(Decimal(text.replace(",", ".")))
    mixed = _MIXED.fullmatch(text)
    if mixed is None or int(mixed[3]) == 0:
        message = f"“{text}” is not a number; write it as 12.5, 3/4 or 1 1/2."
        raise Refusal(message, field=field)
    return int(mixed[1] or 0) + Fraction(int(mixed[2]), int(mixed[3]))


def _example(field: str) -> str:
    examples = {"length": "12.5 m", "force": "84.6 kN", "mass": "104 kg", "load": "1.6 t"}
    return examples.get(field, "3/16 in")
