"""What a person typed, kept beside the record's own figure where the unit is another.

The record counts in whole millimetres, newtons, grams and nanometres. Someone who thinks in feet
or pounds must find his own figure again; so it stays, and must mean what is recorded.
"""

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from inventory.rules.quantity_text import read_quantity
from inventory.rules.refusal import Refusal
from inventory.rules.units import (
    diameter_nm,
    parse_force_n,
    parse_length_mm,
    parse_length_um,
    parse_mass_g,
)

NOTHING_GIVEN: Final[Mapping[str, str]] = MappingProxyType({})

# By the ending of a field's name, which is the unit of the record.
_READERS: Final[Mapping[str, Callable[[str], int]]] = MappingProxyType(
    {
        "mm": parse_length_mm,
        "n": parse_force_n,
        "g": parse_mass_g,
        "nm": diameter_nm,
        "um": parse_length_um,
    }
)
_OWN_UNITS: Final = frozenset(
    {"", "mm", "cm", "m", "metre", "metres", "meter", "meters", "n", "kn", "g", "kg"}
)
_MARKS_OF_INCHES: Final = re.compile(
    r"ft|feet|foot|in|['\"\N{PRIME}\N{DOUBLE PRIME}]", re.IGNORECASE
)


def is_of_another_unit(text: str) -> bool:
    """Tell whether a quantity is written in a unit that is not the record's own family."""
    if _MARKS_OF_INCHES.search(text):
        return True
    try:
        _, unit = read_quantity(text, field="quantity")
    except Refusal:
        return False
    return unit.lower() not in _OWN_UNITS


def kept_as_given(as_given: Mapping[str, str], values: Mapping[str, int | None]) -> dict[str, str]:
    """Return the texts to keep, by field; `values` are the recorded figures by the same names.

    A text in the record's own units is not kept: the figure says it already. Raises `Refusal` for
    a name that is none of the fields, and for a text that does not mean the recorded figure.
    """
    kept = {name: text.strip() for name, text in as_given.items() if is_of_another_unit(text)}
    for name, text in kept.items():
        reader = _READERS.get(name.rsplit("_", 1)[-1])
        if reader is None or values.get(name) is None:
            message = f"“{name}” is no quantity of this entry; leave it out of what was typed."
            raise Refusal(message, field=name)
        if reader(text) != values[name]:
            message = f"“{text}” does not mean the figure that is recorded; enter it anew."
            raise Refusal(message, field=name)
    return kept


def still_true(kept: Mapping[str, str], **figures: tuple[int | None, int | None]) -> dict[str, str]:
    """Leave out a text whose figure was not taken; `figures` are what was typed and what stands."""
    moved = {name for name, (typed, stands) in figures.items() if typed != stands}
    return {name: text for name, text in kept.items() if name not in moved}


def beside(figure: str, as_given: Mapping[str, str], name: str) -> str:
    """Write a figure with what was typed beside it, where that was kept, all in one bracket."""
    text = as_given.get(name)
    if not text:
        return figure
    if figure.endswith(")"):
        return f"{figure.removesuffix(')')}; entered as {text})"
    return f"{figure} ({text})"
