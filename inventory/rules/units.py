"""Reading and writing lengths, forces, masses and rope diameters, exactly.

Factors are those of NIST SP 811 (2008), appendix B. Inside the program a length is whole
millimetres, a force whole newtons, a mass whole grams, a diameter whole nanometres; rounding to
them is half up.
"""

import re
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction
from math import floor
from types import MappingProxyType
from typing import Final

from inventory.rules.quantity_text import read_quantity
from inventory.rules.refusal import Refusal

MM_PER_UNIT: Final[Mapping[str, Decimal]] = MappingProxyType(
    {
        "mm": Decimal(1),
        "cm": Decimal(10),
        "m": Decimal(1000),
        "in": Decimal("25.4"),
        "ft": Decimal("304.8"),
    }
)

# The pound-force is the one factor that has many digits; SP 811 gives it and the kilogram-force
# as exact, and the ton-force (short) is 2000 of it.
N_PER_UNIT: Final[Mapping[str, Decimal]] = MappingProxyType(
    {
        "N": Decimal(1),
        "kN": Decimal(1000),
        "kgf": Decimal("9.80665"),
        "tf": Decimal("9806.65"),
        "lbf": Decimal("4.4482216152605"),
        "tonf (short)": Decimal("8896.443230521"),
    }
)

# SP 811 B.6: the pound is exactly this. A ton without a name is refused: there are three.
G_PER_UNIT: Final[Mapping[str, Decimal]] = MappingProxyType(
    {
        "g": Decimal(1),
        "kg": Decimal(1000),
        "lb": Decimal("453.59237"),
    }
)

# Far beyond any rope or testing machine, and within four bytes: what exceeds it is a slip.
MAX_LENGTH_MM: Final = 10**9
MAX_GAUGE_UM: Final = 10**9
MAX_FORCE_N: Final = 10**9
MAX_MASS_G: Final = 10**9
MAX_DIAMETER_NM: Final = 10**9

_NM_PER_MM: Final = 10**6
_UM_PER_MM: Final = 1000

_LENGTH_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {name: name for name in MM_PER_UNIT}
    | {"metre": "m", "metres": "m", "meter": "m", "meters": "m"}
    | {"inch": "in", "inches": "in", '"': "in", "\N{DOUBLE PRIME}": "in"}
    | {"foot": "ft", "feet": "ft", "'": "ft", "\N{PRIME}": "ft"}
)
_FORCE_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {name.lower(): name for name in N_PER_UNIT}
    | {"short tonf": "tonf (short)", "tonf(short)": "tonf (short)"}
)
_MASS_NAMES: Final[Mapping[str, str]] = MappingProxyType(
    {name: name for name in G_PER_UNIT} | {"lbs": "lb", "pound": "lb", "pounds": "lb"}
)
_FORCE_ADVICE: Final[Mapping[str, str]] = MappingProxyType(
    {
        "kg": "is a mass; for a force write kgf or kN",
        "lb": "is a mass; for a force write lbf or kN",
        "lbs": "is a mass; for a force write lbf or kN",
        "t": "may be many things; write tf (1000 kgf), tonf (short) (2000 lbf) or kN",
        "ton": "may be many things; write tf (1000 kgf), tonf (short) (2000 lbf) or kN",
        "tonf": "may be many things; write tf (1000 kgf), tonf (short) (2000 lbf) or kN",
    }
)

# Feet and inches together, as in 41 ft 6 in.
_FEET_AND_INCHES: Final = re.compile(
    r"(.+?)\s*(?:ft|feet|foot|'|\N{PRIME})\s*(.+?)\s*(?:in|inch|inches|\"|\N{DOUBLE PRIME})",
    re.IGNORECASE,
)


def parse_length_mm(text: str, *, unit: str = "m", rounds_down: bool = False) -> int:
    """Read a length such as "12.5", "12,5 m", "41 ft 6 in" or "1 1/2 in" as whole mm.

    `unit` (a key of `MM_PER_UNIT`) is meant where the text names none. Rounded half up, or down
    where a size has to reach a least one. Raises `Refusal`.
    """
    parts = _FEET_AND_INCHES.fullmatch(text.strip())
    written = (f"{parts[1]} ft", f"{parts[2]} in") if parts else (text,)
    exact_mm = sum((_exact_mm(part, unit=unit) for part in written), Fraction())
    length_mm = floor(exact_mm) if rounds_down else round_half_up(exact_mm)
    return _within(length_mm, MAX_LENGTH_MM, text=text, field="length")


def parse_length_um(text: str, *, unit: str = "mm") -> int:
    """Read a gauge length such as "1000.25", "1000,25 mm" or "39 3/8 in" as whole micrometres.

    `unit` (a key of `MM_PER_UNIT`) is meant where the text names none. Raises `Refusal`.
    """
    length_um = round_half_up(_exact_mm(text, unit=unit) * _UM_PER_MM)
    return _within(length_um, MAX_GAUGE_UM, text=text, field="length")


def parse_force_n(text: str, *, unit: str = "kN") -> int:
    """Read a force such as "84.6", "2.64 tonf (short)" or "270 lbf" as whole newtons.

    `unit` (a key of `N_PER_UNIT`) is meant where the text names none. Raises `Refusal`.
    """
    return round_half_up(exact_force_n(text, unit=unit))


def exact_force_n(text: str, *, unit: str = "kN") -> Fraction:
    """Read a force as `parse_force_n` does, in newtons and unrounded. Raises `Refusal`."""
    number, written = read_quantity(text, field="force")
    name = _FORCE_NAMES.get(written.lower()) if written else unit
    if name is None:
        reason = _FORCE_ADVICE.get(
            written.lower(), f"is no unit of force here; write one of {', '.join(N_PER_UNIT)}"
        )
        message = f"“{written}” {reason}."
        raise Refusal(message, field="force")
    exact = number * Fraction(N_PER_UNIT[name])
    _within(round_half_up(exact), MAX_FORCE_N, text=text, field="force")
    return exact


def parse_mass_g(text: str, *, unit: str = "kg") -> int:
    """Read a mass such as "104", "104 kg" or "229 lb" as whole grams.

    `unit` (a key of `G_PER_UNIT`) is meant where the text names none. Raises `Refusal`.
    """
    number, written = read_quantity(text, field="mass")
    name = _MASS_NAMES.get(written.lower()) if written else unit
    if name is None:
        message = f"“{written}” is no unit of mass here; write one of {', '.join(G_PER_UNIT)}."
        raise Refusal(message, field="mass")
    mass_g = round_half_up(number * Fraction(G_PER_UNIT[name]))
    return _within(mass_g, MAX_MASS_G, text=text, field="mass")


def diameter_nm(text: str) -> int:
    """Read a rope diameter such as "12", "1.5 mm", "3/16 in" or "1-1/8 in" as exact nanometres.

    Without a unit it is in millimetres, but a bare fraction is refused, since it may be inches.
    Raises `Refusal`, also for a diameter that is no whole number of nanometres.
    """
    number, written = read_quantity(text, field="diameter")
    if not written and "/" in text:
        message = (
            f"“{text.strip()}” does not say whether it is in or mm; write “{text.strip()} in”."
        )
        raise Refusal(message, field="diameter")
    name = _LENGTH_NAMES.get(written.lower()) if written else "mm"
    if name not in {"mm", "in"}:
        message = f"Give the diameter in mm or in, not in “{written}”."
        raise Refusal(message, field="diameter")
    exact_nm = number * Fraction(MM_PER_UNIT[name]) * _NM_PER_MM
    if exact_nm.denominator != 1 or exact_nm == 0:
        message = f"“{text.strip()}” is no diameter; write it as 12, 1.5 or 3/16 in."
        raise Refusal(message, field="diameter")
    return _within(exact_nm.numerator, MAX_DIAMETER_NM, text=text, field="diameter")


def format_metres(mm: int) -> str:
    """Write a length in metres to the millimetre: 12500 is "12.500 m"."""
    sign = "-" if mm < 0 else ""
    return f"{sign}{abs(mm) // 1000}.{abs(mm) % 1000:03d} m"


def format_um(um: int) -> str:
    """Write a gauge length in mm, with no digit more than it has: 1000250 is "1000.25 mm"."""
    digits = f"{um // 1000}.{um % 1000:03d}".rstrip("0").rstrip(".")
    return f"{digits} mm"


def format_kn(n: int) -> str:
    """Write a force in kN exactly, with no digit more than it has: 84600 is "84.6 kN"."""
    sign = "-" if n < 0 else ""
    digits = f"{abs(n) // 1000}.{abs(n) % 1000:03d}".rstrip("0").rstrip(".")
    return f"{sign}{digits} kN"


def format_kg(g: int) -> str:
    """Write a mass in kg exactly, with no digit more than it has: 104500 is "104.5 kg"."""
    sign = "-" if g < 0 else ""
    digits = f"{abs(g) // 1000}.{abs(g) % 1000:03d}".rstrip("0").rstrip(".")
    return f"{sign}{digits} kg"


def round_half_up(value: Fraction) -> int:
    """Return the nearest whole number, the greater one when two are equally near."""
    return int((value + Fraction(1, 2)) // 1)


def _exact_mm(text: str, *, unit: str) -> Fraction:
    number, written = read_quantity(text, field="length")
    name = _LENGTH_NAMES.get(written.lower()) if written else unit
    if name is None:
        message = f"“{written}” is no unit of length here; write one of {', '.join(MM_PER_UNIT)}."
        raise Refusal(message, field="length")
    return number * Fraction(MM_PER_UNIT[name])


def _within(value: int, limit: int, *, text: str, field: str) -> int:
    if value > limit:
        message = f"“{text.strip()}” is beyond any {field} of rope; check the number and the unit."
        raise Refusal(message, field=field)
    return value
